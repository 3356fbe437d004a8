"""Hand-overs: agreed, on their way, there; and what two people tell each other meanwhile."""

from datetime import timedelta

import pytest
from django.utils import timezone

from accounts.models import Event
from drives.actions.circles import calendar
from drives.models import HandOver, Piece
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import Desk
from tests.pages.conftest import Reader, reader, words

SECRET = "3 Mill Lane, ring twice"


@pytest.fixture
def desk(plan: Plan, cast: Cast) -> Desk:
    """A travelling blanket, whose only piece is with Olga; Vera waits for it."""
    desk = plan(mode="travelling")
    desk.knit("A1", cast.olga)
    reader(cast.vera).post(f"/blankets/{desk.blanket.pk}/squares/B1/claim/")
    return desk


@pytest.fixture
def piece(desk: Desk) -> str:
    return f"/pieces/{desk.blanket.pieces.get().pk}/"


@pytest.fixture
def hand_over(cast: Cast, piece: str) -> str:
    """Olga has agreed with Vera to send it by post."""
    agreed = {"receiver": cast.vera.pk, "way": "post"}
    reader(cast.olga).press(f"{piece}hand-over/", agreed)
    return f"/hand-overs/{HandOver.objects.get().pk}/"


def test_from_home_to_home(cast: Cast, olga: Reader, vera: Reader, piece: str) -> None:
    text = olga.read("/")
    assert "Piece A1 of Blanket You have it. Vera waits for it. It can be passed on now." in text
    form = olga.get(f"{piece}hand-over/", {"to": cast.vera.pk}).text
    assert f'<option value="{cast.vera.pk}" selected>Vera</option>' in form
    text = olga.press(f"{piece}hand-over/", {"receiver": cast.vera.pk, "way": "hand"})
    assert "The piece A1 goes to Vera next." in text
    address = f"/hand-overs/{HandOver.objects.get().pk}/"

    assert "You give it to Vera, by hand. I have handed it over" in olga.read("/")
    assert "Olga gives it to you, by hand. I have it" in vera.read("/")
    assert "It is on its way to Vera." in olga.press(f"{address}sent/")
    assert "On its way from Olga to you, by hand. I have it" in vera.read("/")
    assert "The piece A1 is with Vera now." in vera.press(f"{address}received/")

    assert "Pieces on the move" not in vera.read("/")
    assert "Pieces with you Piece A1 of Blanket: B1 or A2 can be begun on it." in vera.read("/")
    assert "Piece A1" not in olga.read("/")
    assert Piece.objects.get().holder == cast.vera


def test_what_is_posted_takes_a_tracking_note(
    cast: Cast, olga: Reader, vera: Reader, piece: str, hand_over: str
) -> None:
    assert "It is in the post" in olga.read("/")
    assert "Tracking note (if you like)" in olga.read(f"{hand_over}sent/")
    olga.press(f"{hand_over}sent/", {"note": "RX 12 345"})
    assert "Olga gives it to you, by post. Sent on" in vera.read(piece)
    for person in (cast.olga, cast.vera, cast.cora):
        assert "Tracking note: RX 12 345" in reader(person).read(piece)


def test_contacts_are_for_the_two_alone_and_wiped_at_the_end(
    cast: Cast, olga: Reader, vera: Reader, cora: Reader, piece: str, hand_over: str
) -> None:
    assert "it is wiped as soon as the piece has arrived" in olga.read(piece)
    text = olga.press(f"{hand_over}contact/", {"contact": SECRET})
    assert "Vera can see it now, and nobody else." in text
    assert f"Olga tells you: {SECRET}" in vera.read(piece)
    assert f'value="{SECRET}"' in olga.get(piece).text
    pages = [piece, f"{piece.removesuffix('/')}/", "/"]
    assert all(SECRET not in cora.get(page).text for page in pages)
    response = cora.post(f"{hand_over}contact/", {"contact": "me too"})
    assert response.status_code == 409

    vera.press(f"{hand_over}received/")
    assert all(SECRET not in person.get(piece).text for person in (olga, vera, cora))
    assert SECRET not in str(list(HandOver.objects.values()) + list(Event.objects.values()))


def test_a_contact_is_taken_back_by_leaving_it_empty(
    olga: Reader, vera: Reader, piece: str, hand_over: str
) -> None:
    olga.press(f"{hand_over}contact/", {"contact": SECRET})
    assert "It is wiped." in olga.press(f"{hand_over}contact/", {"contact": " "})
    assert SECRET not in vera.get(piece).text


def test_who_has_no_login_is_told_nothing_by_the_site(cast: Cast, olga: Reader, piece: str) -> None:
    olga.press(f"{piece}hand-over/", {"receiver": cast.paul.pk, "way": "hand"})
    text = olga.read(piece)
    assert "Paul has no login: a coordinator tells you two how to reach each other." in text
    assert "Tell Paul" not in text


def test_a_second_promise_is_refused(cast: Cast, olga: Reader, piece: str, hand_over: str) -> None:
    response = olga.post(f"{piece}hand-over/", {"receiver": cast.paul.pk, "way": "hand"})
    assert response.status_code == 409
    assert "The piece A1 is promised to Vera; cancel that hand-over first." in words(response)


def test_it_can_be_called_off_after_a_yes(olga: Reader, piece: str, hand_over: str) -> None:
    text = olga.read(f"{hand_over}cancel/")
    assert "The piece A1 stays with Olga. What the two told each other is wiped at once." in text
    assert "Vera keeps their place in the line." in text
    assert "The piece A1 stays where it is." in olga.press(f"{hand_over}cancel/")
    assert "Give it to Vera" in olga.read(piece)


def test_who_waits_arranges_for_themselves_alone(cast: Cast, vera: Reader, piece: str) -> None:
    form = vera.get(f"{piece}hand-over/").text
    assert ">Vera</option>" in form
    assert ">Paul</option>" not in form
    response = vera.post(f"{piece}hand-over/", {"receiver": cast.paul.pk, "way": "hand"})
    assert response.status_code == 422
    assert not HandOver.objects.exists()


def test_what_is_on_the_needles_does_not_travel(
    cast: Cast, desk: Desk, olga: Reader, hand_over: str
) -> None:
    desk.claim("A2", cast.olga)
    response = olga.post(f"{hand_over}sent/", {"note": ""})
    assert response.status_code == 409
    assert "Olga has a square of the piece A1 on the needles" in words(response)


def test_a_meeting_without_a_day_is_the_next_one(
    cast: Cast, desk: Desk, olga: Reader, piece: str
) -> None:
    now, drive = timezone.now(), desk.blanket.drive
    days = [timezone.localdate() + timedelta(days=count) for count in (-1, 9, 4)]
    for day in days:
        calendar.add_meeting(drive=drive, day=day, by=cast.cora, now=now)
    assert f"The next meeting is on {days[2].day} {days[2]:%B}." in olga.read(f"{piece}hand-over/")
    olga.press(f"{piece}hand-over/", {"receiver": cast.vera.pk, "way": "meeting"})
    assert HandOver.objects.get().day == days[2]


def test_others_look_on_and_press_nothing(
    cast: Cast, plan: Plan, vera: Reader, stan: Reader, olga: Reader
) -> None:
    desk = plan(mode="travelling")
    desk.knit("A1", cast.paul)
    piece = f"/pieces/{desk.blanket.pieces.get().pk}/"
    olga.press(f"{piece}hand-over/", {"receiver": cast.olga.pk, "way": "hand"})
    address = f"/hand-overs/{HandOver.objects.get().pk}/"
    text = vera.read(piece)
    assert "Agreed: Paul gives it to Olga, by hand." in text
    assert "Cancel it" not in text
    olga.press(f"{address}sent/", {"note": "RX 12 345"})
    assert "RX 12 345" not in vera.get(piece).text
    for act in ("sent", "received", "cancel"):
        assert vera.post(f"{address}{act}/").status_code == 409
        assert stan.post(f"{address}{act}/").status_code == 404
