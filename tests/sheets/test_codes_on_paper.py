"""Codes read from the picture of a page by an independent decoder lead back to what they are on."""

import re
from typing import Any

import cv2
import numpy as np
import pytest
from django.test import Client

from drives.actions.paper.codes import code_of, link
from drives.models import Ink, Piece, Sheet
from drives.sheets.kind import Document
from drives.sheets.kinds import CARDS, LABEL
from tests.cast import Cast
from tests.desk import NOW, Desk
from tests.sheets.conftest import ask
from tests.sheets.paper import Printed
from tests.sheets.pictures import picture


def codes(printed: Printed, page: int = 0, dpi: int = 200) -> list[str]:
    """What a camera would read, from the top of the page to its foot."""
    found, told, corners, _straight = cv2.QRCodeDetectorAruco().detectAndDecodeMulti(
        picture(printed.bytes, page, dpi)
    )
    assert found
    by_height = np.argsort(corners[:, :, 1].min(axis=1))
    return [told[number] for number in by_height]


def printed(desk: Desk, cast: Cast, kind: Document, **chosen: Any) -> Printed:
    sheet: Sheet = ask(desk.blanket, cast, kind=kind, **chosen)
    return Printed(sheet)


def test_the_code_on_a_card_finishes_that_very_square(
    desk: Desk, cast: Cast, client: Client
) -> None:
    desk.knit("A1", cast.olga)
    desk.claim("B1", cast.vera)
    (address,) = codes(printed(desk, cast, CARDS, places=("B1",)))
    assert address == link(code_of(desk.square("B1"), now=NOW))

    assert cast.vera.user
    client.force_login(cast.vera.user)
    card = client.get(address.partition("localhost:8000")[2], follow=True)
    assert card.redirect_chain[-1][0] == f"/blankets/{desk.blanket.pk}/squares/B1/knit/"
    form = re.search(r'<form method="post" action="([^"]+/finish/)"', card.content.decode())
    assert form
    assert client.post(form[1]).status_code == 302
    assert desk.states() == {"A1": "finished", "B1": "finished"}
    assert desk.square("B1").knitter == cast.vera


def test_two_on_a_page_are_told_apart_in_black_ink_too(desk: Desk, cast: Cast) -> None:
    desk.knit("A1", cast.olga)
    both = printed(desk, cast, CARDS, places=("A2", "B1"), to_a_page=2, ink=Ink.BLACK)
    assert codes(both) == [link(code_of(desk.square(name), now=NOW)) for name in ("A2", "B1")]


def test_a_code_survives_a_worn_corner(desk: Desk, cast: Cast) -> None:
    desk.knit("A1", cast.olga)
    page = picture(printed(desk, cast, CARDS, places=("B1",)).bytes, 0, 200)
    found, told, corners, _straight = cv2.QRCodeDetectorAruco().detectAndDecodeMulti(page)
    assert found
    right, bottom = corners[0].max(axis=0).astype(int)
    side = int(right - corners[0][:, 0].min())
    worn = page.copy()
    worn[bottom - side // 4 : bottom, right - side // 4 : right] = 255
    assert cv2.QRCodeDetectorAruco().detectAndDecode(worn)[0] == told[0]


@pytest.mark.parametrize("size", ["normal", "large"])
def test_the_code_on_a_label_leads_to_the_piece(
    desk: Desk, cast: Cast, client: Client, size: str
) -> None:
    desk.knit("A1", cast.olga)
    piece = Piece.objects.get()
    (address,) = codes(printed(desk, cast, LABEL, piece=piece.pk, print=size))
    assert address == link(code_of(piece, now=NOW))
    assert cast.vera.user
    client.force_login(cast.vera.user)
    where = client.get(address.partition("localhost:8000")[2])
    assert where["Location"] == f"/pieces/{piece.pk}/"
