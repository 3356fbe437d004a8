"""Where codes on paper lead: one press for those who may, nothing but a form for all others."""

import re
from typing import Any
from urllib.parse import quote, urlsplit

import pytest
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from accounts.models import Circle, Member, User
from drives.actions.paper.codes import code_of, link
from drives.models import Blanket, Drive, FinderNote, Piece, Square
from tests.cast import PASSWORD, Cast
from tests.conftest import Plan
from tests.desk import Desk
from tests.pages.conftest import Reader, words

GONE = "This paper is out of date"
FOUND = "This belongs to a charity blanket"


@pytest.fixture
def desk(cast: Cast, plan: Plan) -> Desk:
    """A travelling blanket with names of its own: Vera has piece A1 and B1 on her needles."""
    Circle.objects.filter(pk=cast.circle.pk).update(name="Thistledown")
    desk = plan(mode="travelling", name="Snowmelt", recipient="Moorside ward")
    Blanket.objects.update(name="Heatherbell")
    now = timezone.now()
    desk.knit("A1", cast.vera, at=now)
    desk.claim("B1", cast.vera, at=now)
    return desk


def scan(target: Square | Piece) -> str:
    """The path in the code."""
    return urlsplit(link(code_of(target, now=timezone.now()))).path


def plain(response: Any, path: str) -> str:
    """The page without what differs from answer to answer."""
    html = response.content.decode()
    html = re.sub(r'(csrfmiddlewaretoken" value|nonce)="[^"]+"', "", html)
    return html.replace(quote(path), "PATH").replace(path, "PATH")


@pytest.mark.parametrize("who", ["anybody", "stan"])
def test_a_stranger_sees_the_same_of_everything(
    desk: Desk, who: str, request: pytest.FixtureRequest
) -> None:
    reader: Reader = request.getfixturevalue(who)
    paths = [scan(desk.square("B1")), scan(desk.square("A1")), scan(desk.piece("A1"))]
    pages = [reader.get(path) for path in paths]
    assert [page.status_code for page in pages] == [200, 200, 200]
    first, *others = [plain(page, path) for page, path in zip(pages, paths, strict=True)]
    assert others == [first, first]
    assert FOUND in words(pages[0])
    for page in pages:
        assert "no-store" in page["Cache-Control"]
        assert page["X-Robots-Tag"] == "noindex, nofollow"
        # Not no-referrer: with that a browser sends no origin, and the form would be turned down.
        assert page["Referrer-Policy"] == "same-origin"


@pytest.mark.parametrize("who", ["anybody", "stan"])
def test_a_stranger_reads_no_name(desk: Desk, who: str, request: pytest.FixtureRequest) -> None:
    reader: Reader = request.getfixturevalue(who)
    names = [
        *(each.name for model in (Circle, Drive, Blanket) for each in model.objects.all()),
        *(each.name for each in Member.objects.all()),
        *(each.email for each in User.objects.all()),
        "Moorside ward",
    ]
    assert {"Thistledown", "Snowmelt", "Heatherbell", "Vera", "Olga"} <= set(names)
    for target in (desk.square("B1"), desk.piece("A1")):
        path = scan(target)
        html = plain(reader.get(path), path)
        assert [name for name in names if name and name in html] == []
        assert not re.search(r"\b[A-Z][1-9]\b", html)  # no place either
        assert re.findall(r'href="(/(?:circles|drives|blankets|pieces)/\d[^"]*)"', html) == []


def test_signing_in_leads_back_to_the_code(desk: Desk, anybody: Reader) -> None:
    path = scan(desk.square("B1"))
    login = f"{reverse('account_login')}?next={path}"
    assert f'href="{login}"' in anybody.get(path).text
    sent = {"login": "vera@example.org", "password": PASSWORD}
    last, _status = anybody.post(login, sent, follow=True).redirect_chain[-1]
    assert last == f"/blankets/{desk.blanket.pk}/squares/B1/knit/"


def test_what_is_out_of_date_says_so(desk: Desk, anybody: Reader, cora: Reader) -> None:
    path = scan(desk.square("B1"))
    cora.press(f"/blankets/{desk.blanket.pk}/squares/B1/code/renew/")
    mangled = [path, "/c/nothing/", path[:-2] + "/", path.replace(".", "")]
    for reader in (anybody, cora):
        pages = [reader.get(each) for each in mangled]
        assert [page.status_code for page in pages] == [404] * 4
        assert len({words(page) for page in pages}) == 1
        assert words(pages[0]).startswith(GONE)
        assert reader.post(path, {"text": "Found."}).status_code == 404
    assert not FinderNote.objects.exists()


@pytest.mark.parametrize("who", ["vera", "cora", "olga"])
def test_the_circle_is_sent_to_the_page(
    desk: Desk, who: str, request: pytest.FixtureRequest
) -> None:
    reader: Reader = request.getfixturevalue(who)
    square, piece = desk.square("B1"), desk.piece("A1")
    to_square, to_piece = reader.get(scan(square)), reader.get(scan(piece))
    assert to_square["Location"] == f"/blankets/{desk.blanket.pk}/squares/B1/knit/"
    assert to_piece["Location"] == f"/pieces/{piece.pk}/"


def test_who_has_left_is_a_stranger(desk: Desk, cast: Cast, vera: Reader) -> None:
    Member.objects.filter(pk=cast.vera.pk).update(left_at=timezone.now(), is_volunteer=False)
    assert FOUND in vera.read(scan(desk.square("B1")))


def presses(reader: Reader, path: str) -> list[str]:
    """The addresses that a button of the page posts to without asking for anything more."""
    html = reader.get(path, follow=True).content.decode()
    forms = re.findall(r'<form method="post" action="([^"]+)"[^>]*>(.*?)</form>', html, re.DOTALL)
    return [
        action
        for action, inside in forms
        if not re.search(r'<(select|textarea|input (?!type="hidden"))', inside)
    ]


def test_one_press_claims_and_one_finishes(desk: Desk, cast: Cast, olga: Reader) -> None:
    at = f"/blankets/{desk.blanket.pk}/squares"
    desk.knit("A2", cast.vera, at=timezone.now())
    desk.finish("B1", cast.vera, at=timezone.now())
    desk.put("A1", cast.olga, by=cast.cora, at=timezone.now())
    path = scan(desk.square("B2"))
    assert f"{at}/B2/claim/" in presses(olga, path)
    assert "B2 is yours" in olga.press(f"{at}/B2/claim/")
    assert f"{at}/B2/finish/" in presses(olga, path)
    assert "B2 is finished. Thank you!" in olga.press(f"{at}/B2/finish/")


def test_a_coordinator_finishes_for_another_by_one_press(
    desk: Desk, cast: Cast, cora: Reader
) -> None:
    now = timezone.now()
    desk.give_back("B1", cast.vera, at=now)
    desk.put("A1", cast.paul, by=cast.cora, at=now)
    desk.claim("B1", cast.paul, by=cast.cora, at=now)
    path = scan(desk.square("B1"))
    address = f"/blankets/{desk.blanket.pk}/squares/B1/finish/"
    assert address in presses(cora, path)
    assert cora.get(path, follow=True).text.index("Paul has finished B1") < cora.get(
        path, follow=True
    ).text.index("The first stitches")
    cora.press(address)
    assert desk.square("B1").knitter == cast.paul


def test_its_holder_is_led_to_the_row_to_knit(desk: Desk, vera: Reader) -> None:
    page = vera.get(scan(desk.square("B1")), follow=True)
    assert page.redirect_chain[-1][0].endswith("/squares/B1/knit/")
    assert "Row done" in page.text


def test_one_press_receives_what_is_promised(
    desk: Desk, cast: Cast, olga: Reader, vera: Reader
) -> None:
    now = timezone.now()
    desk.give_back("B1", cast.vera, at=now)
    desk.arrange("A1", cast.olga, by=cast.vera, at=now)
    path = scan(desk.piece("A1"))
    address = f"/hand-overs/{desk.hand_over('A1').pk}/received/"
    assert address in presses(olga, path)
    assert address not in presses(vera, path)
    page = olga.get(path, follow=True).text
    assert page.index("I have it") < page.index("Where it is")
    olga.press(address)
    assert desk.holders() == {"A1": "Olga"}


def test_one_press_takes_what_one_waits_for(
    desk: Desk, cast: Cast, olga: Reader, vera: Reader
) -> None:
    now = timezone.now()
    desk.give_back("B1", cast.vera, at=now)
    desk.ask("B1", cast.olga, at=now)
    piece = desk.piece("A1")
    address = f"/pieces/{piece.pk}/take/"
    assert address in presses(olga, scan(piece))
    assert address not in presses(vera, scan(piece))
    assert "The piece A1 is with you now." in olga.press(address)
    assert desk.holders() == {"A1": "Olga"}
    assert desk.queue("A1") == []
    olga.press(address)  # again
    assert desk.verbs().count("hand-over-received") == 1


def test_who_neither_waits_nor_gets_it_takes_nothing(
    desk: Desk, cast: Cast, vera: Reader, olga: Reader
) -> None:
    desk.give_back("B1", cast.vera, at=timezone.now())
    desk.put("A1", cast.olga, by=cast.cora, at=timezone.now())
    piece = desk.piece("A1")
    assert f"/pieces/{piece.pk}/take/" not in presses(vera, scan(piece))
    assert vera.post(f"/pieces/{piece.pk}/take/").status_code == 409
    assert desk.holders() == {"A1": "Olga"}


def test_a_message_reaches_the_coordinators(
    desk: Desk, anybody: Reader, cora: Reader, vera: Reader
) -> None:
    path = scan(desk.piece("A1"))
    told = {"text": "On the bus <b>no. 4</b>", "contact": "0123 456"}
    assert "The coordinator gets your message." in anybody.press(path, told)
    blanket, circle = f"/blankets/{desk.blanket.pk}/", f"/circles/{desk.blanket.drive.circle_id}/"
    for page in (blanket, circle):
        read = cora.read(page)
        assert "about piece A1 of Heatherbell" in read
        assert "<b>no. 4</b>" in read
        assert "How to reach them: 0123 456" in read
        assert "0123 456" not in vera.read(page)
    for page in (blanket, f"{blanket}log/"):
        assert "A finder left a message about A1." in vera.read(page)
    note = FinderNote.objects.get()
    assert "is wiped" in cora.press(f"/notes/{note.pk}/seen-to/")
    assert "0123 456" not in cora.read(blanket)
    assert "no. 4" not in cora.read(circle)
    assert "Cora saw to a finder’s message about A1." in vera.read(blanket)


@pytest.mark.parametrize("text", ["", "   ", "x" * 1001])
def test_a_message_has_some_words_and_not_too_many(desk: Desk, anybody: Reader, text: str) -> None:
    answer = anybody.post(scan(desk.piece("A1")), {"text": text})
    assert answer.status_code == 422
    assert not FinderNote.objects.exists()


def test_the_sixth_message_of_a_day_is_put_off(desk: Desk, anybody: Reader) -> None:
    path = scan(desk.square("B1"))
    for _ in range(5):
        anybody.press(path, {"text": "Found."})
    answer = anybody.post(path, {"text": "Found."})
    assert answer.status_code == 409
    assert "Please try once more tomorrow." in words(answer)


def test_other_sites_cannot_leave_messages(desk: Desk) -> None:
    client = Client(enforce_csrf_checks=True)
    assert client.post(scan(desk.square("B1")), {"text": "Found."}).status_code == 403


@pytest.mark.parametrize(
    ("what", "told"),
    [("squares/B1/code/renew/", "1 code leads nowhere"), ("codes/renew/", "2 codes lead nowhere")],
)
def test_renewing_asks_first(desk: Desk, cora: Reader, what: str, told: str) -> None:
    paths = [scan(desk.square("B1")), scan(desk.piece("A1"))]
    address = f"/blankets/{desk.blanket.pk}/{what}"
    assert "is told that it is out of date" in cora.read(address)
    assert cora.get(paths[0]).status_code == 302
    assert told in cora.press(address)
    assert cora.get(paths[0]).status_code == 404
    assert "No code has been printed since." in cora.press(address)
    assert cora.get(scan(desk.square("B1"))).status_code == 302
    assert "Cora renewed " in cora.read(f"/blankets/{desk.blanket.pk}/")
