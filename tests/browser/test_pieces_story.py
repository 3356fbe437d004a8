"""A travelling blanket in three panels, and three people who pass its pieces on, all at once."""

import re

import pytest
from playwright.sync_api import Page, expect

from drives.craft.layout.layout import Layout, Seam
from drives.craft.places import Place
from drives.models import Blanket
from tests.cast import Cast
from tests.desk import new_blanket, places

from .conftest import NARROW, WIDE, SignIn
from .looks import faults

pytestmark = pytest.mark.browser


@pytest.fixture
def blanket(cast: Cast) -> Blanket:
    """Panels of two columns; in the first, A1 is missing: A2 and B1 are base squares under B2."""
    seams = frozenset(
        Seam(Place(left, row), Place(left + 1, row)) for left in (2, 4) for row in (1, 2)
    )
    layout = Layout(6, 2, 20, seams=seams, missing=frozenset(places("A1")))
    return new_blanket(cast.olga, layout, mode="travelling", claim_limit=3)


def test_pieces_go_from_hand_to_hand_become_one_and_get_lost(
    cast: Cast, sign_in: SignIn, blanket: Blanket
) -> None:
    olga = sign_in(cast.olga.user, NARROW)
    vera = sign_in(cast.vera.user, NARROW)
    cora = sign_in(cast.cora.user, NARROW)

    for knitter, square in ((vera, "A2"), (olga, "B1"), (vera, "C1")):
        knit(knitter, blanket, square)
    open_square(vera, blanket, "B2")
    expect(vera.get_by_text("Its piece, piece B1, is with Olga.")).to_be_visible()
    vera.get_by_role("button", name="Ask for the piece").click()
    expect(vera.get_by_role("alert")).to_contain_text("You are number 1 in line for it")
    assert faults(vera, WIDE, NARROW) == []

    the_piece_goes_by_post(olga, vera)
    the_two_pieces_become_one(vera, blanket)

    cora.goto(f"/blankets/{blanket.pk}/pieces/")
    expect(cora.get_by_role("heading", level=2)).to_have_text(["Piece A2", "Piece C1"])
    assert faults(cora, WIDE, NARROW) == []
    cora.get_by_role("link", name="Piece C1", exact=True).click()
    cora.get_by_role("link", name="It is lost or spoilt").click()
    expect(cora.get_by_text("C1 is unfinished again, and must be knitted anew.")).to_be_visible()
    assert faults(cora, WIDE, NARROW) == []
    cora.get_by_role("button", name="It is lost, or spoilt").click()
    expect(cora.get_by_role("link", name="C1, ready, joins onto nothing")).to_be_visible()

    vera.goto("/")
    expect(vera.get_by_role("link", name="Piece A2")).to_be_visible()
    expect(vera.get_by_role("link", name="Piece C1")).to_have_count(0)
    assert faults(vera, WIDE, NARROW) == []


def the_piece_goes_by_post(olga: Page, vera: Page) -> None:
    """From Olga's home page to Vera's, each telling the other where they live meanwhile."""
    olga.goto("/")
    expect(olga.get_by_text("You have it. Vera waits for it.")).to_be_visible()
    assert faults(olga, WIDE, NARROW) == []
    olga.get_by_role("link", name="Give it to Vera").click()
    olga.get_by_label("by post").check()
    assert faults(olga, WIDE, NARROW) == []
    olga.get_by_role("button", name="That is agreed").click()
    olga.get_by_label("How Vera reaches you").fill("the blue gate")
    olga.get_by_role("button", name="Tell Vera").click()
    olga.get_by_role("link", name="It is in the post").click()
    olga.get_by_label("Tracking note").fill("RX 12 345")
    olga.get_by_role("button", name="It is on its way").click()
    expect(olga.get_by_text("on its way to Vera").first).to_be_visible()
    assert faults(olga, WIDE, NARROW) == []

    vera.goto("/")
    vera.get_by_role("link", name="Piece B1").click()
    expect(vera.get_by_text("Tracking note: RX 12 345")).to_be_visible()
    expect(vera.get_by_text("Olga tells you: the blue gate")).to_be_visible()
    assert faults(vera, WIDE, NARROW) == []
    vera.get_by_role("button", name="I have it").click()
    expect(vera.get_by_role("status").first).to_have_text("The piece B1 is with Vera now.")
    expect(vera.get_by_text("the blue gate")).to_have_count(0)
    olga.reload()
    expect(olga.get_by_text("the blue gate")).to_have_count(0)


def the_two_pieces_become_one(vera: Page, blanket: Blanket) -> None:
    knit(vera, blanket, "B2")
    vera.goto(f"/blankets/{blanket.pk}/")
    pieces = vera.get_by_role("table").last
    expect(
        pieces.get_by_role("row", name=re.compile("A2.*B1, A2 and B2.*with you"))
    ).to_be_visible()
    expect(vera.get_by_text("together they are piece A2.")).to_be_visible()
    expect(
        vera.get_by_role("link", name="B1, finished, joins onto nothing, in piece A2")
    ).to_be_visible()
    assert faults(vera, WIDE, NARROW) == []


def knit(page: Page, blanket: Blanket, place: str) -> None:
    open_square(page, blanket, place)
    page.get_by_role("button", name=f"Take {place}").click()
    page.get_by_role("button", name=f"{place} is finished").click()
    expect(page.get_by_role("status").first).to_contain_text(f"{place} is finished. Thank you!")


def open_square(page: Page, blanket: Blanket, place: str) -> None:
    page.goto(f"/blankets/{blanket.pk}/squares/{place}/")
