"""Home, the meeting list and Monday's letter all say what the rota says."""

from datetime import date, datetime, timedelta

import pytest
from django.test import Client
from django.utils import timezone
from django.utils.formats import date_format

from accounts.models import Member
from drives.actions.squares.rota import accept_line, decline_line
from drives.craft.rota.fallen import Fallen
from drives.models import Sheet, Status
from drives.readings.accepted import said
from drives.readings.board import board_of
from drives.readings.whereabouts import whereabouts
from drives.sheets.renewal import PAUSE, renew_rotas
from drives.sheets.suggestions import Meant, suggestions
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk

pytestmark = pytest.mark.usefixtures("own_files")
TODAY = NOW.date()


def rota(desk: Desk, *assigned: tuple[str, Member], at: datetime = NOW, ahead: int = 0) -> Sheet:
    """A rota that says so."""
    day = timezone.localdate(at) + ahead * DAY
    told = [
        {
            "member": member.pk,
            "name": member.name,
            "place": place,
            "begin": day.isoformat(),
            "end": (day + 5 * DAY).isoformat(),
            "giver": None,
            "why": "quick",
            "waiting": 3,
        }
        for place, member in assigned
    ]
    return Sheet.objects.create(
        blanket=desk.blanket,
        kind="rota",
        fingerprint=f"{Sheet.objects.count()}",
        status=Status.DONE,
        requested_by=member_of(desk),
        requested_at=at,
        finished_at=at,
        foretold={"assigned": told},
    )


def member_of(desk: Desk) -> Member:
    return desk.blanket.drive.circle.members.earliest("pk")


def could(desk: Desk, *coming: Member, today: date = TODAY) -> dict[str, list[str]]:
    board = board_of(desk.blanket)
    found = suggestions(board, whereabouts(board), coming, Meant([board.blanket], today))
    return {member.name: list(map(str, found[member.pk])) for member in coming}


def test_the_meeting_list_gives_each_what_the_rota_has_first(plan: Plan, cast: Cast) -> None:
    desk = plan(3, 3)
    desk.knit("A1", cast.vera)
    before = could(desk, cast.vera, cast.paul)
    assert before == {"Vera": ["A2"], "Paul": ["B1"]}
    rota(desk, ("A2", cast.paul), ("B1", cast.vera))
    assert could(desk, cast.vera, cast.paul) == {"Vera": ["B1"], "Paul": ["A2"]}
    # One of them takes another square: the rest is as squares come.
    desk.claim("B1", cast.paul, by=cast.cora)
    after = could(desk, cast.vera, cast.paul)
    assert after["Vera"] == []
    assert after["Paul"] == ["A2"]


def test_nobody_is_given_more_than_there_is_room_for(plan: Plan, cast: Cast) -> None:
    desk = plan(3, 3, at_once=1)
    desk.knit("A1", cast.vera)
    rota(desk, ("B1", cast.vera), ("A2", cast.paul))
    found = could(desk, cast.vera, cast.paul)
    assert found["Vera"][0] == "B1"
    assert found["Paul"] == []


def test_neither_an_old_rota_nor_what_begins_later_leads(plan: Plan, cast: Cast) -> None:
    desk = plan(3, 3)
    desk.knit("A1", cast.vera)
    board = board_of(desk.blanket)
    rota(desk, ("A2", cast.paul), at=NOW - 15 * DAY)
    assert Meant([desk.blanket], TODAY).all_ready(board) == {}
    rota(desk, ("A2", cast.paul), ahead=8)
    assert Meant([desk.blanket], TODAY).all_ready(board) == {}
    rota(desk, ("A2", cast.paul), ("C3", cast.vera), ahead=7)
    assert list(Meant([desk.blanket], TODAY).all_ready(board)) == [cast.paul.pk]  # C3 is not ready


def test_an_accepted_line_leads_until_somebody_takes_the_square(plan: Plan, cast: Cast) -> None:
    desk = plan(3, 3)
    desk.knit("A1", cast.vera)
    rota(desk, ("A2", cast.paul), ("B1", cast.vera))
    board, now = board_of(desk.blanket), NOW
    accept_line(square=desk.square("B1"), member=cast.paul, begin=TODAY, by=cast.cora, now=now)
    decline_line(square=desk.square("A2"), member=cast.paul, by=cast.cora, now=now)
    led = Meant([desk.blanket], TODAY)
    assert [each["place"] for each in led.ready(board, cast.paul.pk)] == ["B1"]
    assert led.ready(board, cast.vera.pk) == []
    assert led.for_others(desk.blanket, cast.vera.pk) == {"B1"}
    # Who does not come is promised a square: it is suggested to nobody else.
    assert could(desk, cast.vera)["Vera"] == ["A2"]
    assert could(desk, cast.vera, cast.paul) == {"Vera": ["A2"], "Paul": ["B1"]}
    desk.claim("B1", cast.vera, at=NOW + timedelta(minutes=1))
    (line,) = [each for each in said([desk.blanket], TODAY)[desk.blanket.pk] if each.begin]
    assert (str(line.place), line.member, line.fallen) == ("B1", cast.paul, Fallen.TAKEN)


def test_home_puts_what_is_planned_for_others_last_and_tells_what_comes(
    plan: Plan, cast: Cast
) -> None:
    desk, today = plan(3, 3), timezone.localdate()
    desk.knit("A1", cast.vera)
    rota(desk, ("B2", cast.vera), at=timezone.now(), ahead=9)
    client = Client()
    assert cast.vera.user
    client.force_login(cast.vera.user)
    page = client.get("/").content.decode()
    day = date_format(today + 9 * DAY, "SENTENCE_DAY_FORMAT")
    assert f"Next for you: B2 of “Blanket”, from {day}, when A2 and B1 are finished." in page
    first, last = ("A2", "B1") if page.index(">A2</a>") < page.index(">B1</a>") else ("B1", "A2")
    for place, member in ((first, cast.paul), ("B2", cast.vera)):
        accept_line(
            square=desk.square(place), member=member, begin=today + DAY, by=cast.cora,
            now=timezone.now(),
        )  # fmt: skip
    page = client.get("/").content.decode()
    assert page.index(f">{last}</a>") < page.index(f">{first}</a>")
    assert "Planned for you: B2 of “Blanket”, from" in page
    assert "Paul" not in page


def test_home_names_the_next_square_and_why(plan: Plan, cast: Cast) -> None:
    desk = plan(3, 3)
    desk.knit("A1", cast.vera)
    rota(desk, ("B1", cast.vera), at=timezone.now())
    client = Client()
    assert cast.vera.user
    client.force_login(cast.vera.user)
    page = client.get("/").content.decode()
    assert "This is your next square, from" in page
    assert "3 squares wait for it, and nobody would finish it sooner." in page
    assert page.index(">B1</a>") < page.index(">A2</a>")
    rota(desk, ("A2", cast.vera), at=timezone.now())
    page = client.get("/").content.decode()
    assert page.index(">A2</a>") < page.index(">B1</a>")


def test_a_rota_is_made_anew_when_something_happened(plan: Plan, cast: Cast) -> None:
    desk = plan(3, 3)
    rota(desk, ("A1", cast.vera), at=NOW + timedelta(minutes=1))
    assert renew_rotas(NOW + timedelta(hours=1)) == 0
    desk.claim("A1", cast.vera, at=NOW + timedelta(minutes=2))
    assert renew_rotas(NOW + timedelta(minutes=3)) == 0  # not yet again
    later = NOW + timedelta(minutes=1) + 2 * PAUSE
    assert renew_rotas(later) == 1
    sheet = Sheet.objects.latest("pk")
    assert (sheet.kind, sheet.status, sheet.in_batch) == ("rota", Status.QUEUED, True)
    assert renew_rotas(later + 2 * PAUSE) == 0
    assert Sheet.objects.count() == 2


def test_where_nobody_asked_one_is_made_once_somebody_knits(plan: Plan, cast: Cast) -> None:
    desk = plan(3, 3)
    assert renew_rotas(NOW + DAY) == 0
    desk.claim("A1", cast.vera)
    assert renew_rotas(NOW + timedelta(minutes=1)) == 0
    assert renew_rotas(NOW + DAY) == 1
    assert Sheet.objects.get().requested_by == cast.olga
    assert renew_rotas(NOW + 2 * DAY) == 0
    desk.finish("A1", cast.vera, at=NOW + 60 * DAY)  # long after it was made
    assert renew_rotas(NOW + 61 * DAY) == 1
