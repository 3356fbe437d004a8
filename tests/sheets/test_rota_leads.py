"""Home, the meeting list and Monday's letter all say what the rota says."""

from datetime import date, datetime, timedelta

import pytest
from django.test import Client
from django.utils import timezone

from accounts.models import Member
from drives.models import Sheet, Status
from drives.readings.board import board_of
from drives.readings.whereabouts import whereabouts
from drives.sheets.renewal import PAUSE, renew_rotas
from drives.sheets.suggestions import meant, suggestions
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
    found = suggestions(board, whereabouts(board), coming, today)
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
    assert meant([board], TODAY) == {desk.blanket.pk: {}}
    rota(desk, ("A2", cast.paul), ahead=8)
    assert meant([board], TODAY) == {desk.blanket.pk: {}}
    rota(desk, ("A2", cast.paul), ("C3", cast.vera), ahead=7)
    assert list(meant([board], TODAY)[desk.blanket.pk]) == [cast.paul.pk]  # C3 is not ready


def test_home_names_the_next_square_and_why(plan: Plan, cast: Cast) -> None:
    desk = plan(3, 3)
    desk.knit("A1", cast.vera)
    rota(desk, ("B1", cast.vera), at=timezone.now())
    client = Client()
    assert cast.vera.user
    client.force_login(cast.vera.user)
    page = client.get("/").content.decode()
    assert "This is your next square, from" in page
    assert "3 squares wait for it, and nobody takes fewer days." in page
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


def test_nobody_asked_and_nothing_is_made(plan: Plan, cast: Cast) -> None:
    plan(3, 3).claim("A1", cast.vera)
    assert renew_rotas(NOW + DAY) == 0
    assert not Sheet.objects.exists()
