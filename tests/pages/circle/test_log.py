"""The log of a circle: everything that happened in it, as far as one may read it."""

import pytest
from pytest_django import DjangoAssertNumQueries

from accounts import actions
from accounts.models import Event, Role
from drives.actions.circles import calendar
from drives.actions.drives.drives import change_drive
from drives.actions.paper.codes import code_of
from drives.actions.paper.finders import leave_note
from drives.actions.paper.sheets import request_sheet
from drives.models import Paper
from drives.sheets.kinds import STATUS
from tests.cast import Cast, found, login
from tests.conftest import Plan
from tests.desk import DAY, NOW, SETTINGS, Desk
from tests.pages.conftest import Reader
from tests.store import new_yarn


@pytest.fixture
def desk(plan: Plan) -> Desk:
    return plan()


def log(cast: Cast) -> str:
    return f"/circles/{cast.circle.pk}/log/"


def test_it_tells_of_people_drives_yarn_and_blankets(
    cast: Cast, desk: Desk, vera: Reader, olga: Reader
) -> None:
    drive = desk.blanket.drive
    desk.claim("A1", cast.vera)
    new_yarn(cast.cora)
    actions.change_roles(
        member=cast.vera, by=cast.olga, roles=[Role.COORDINATOR, Role.VOLUNTEER], now=NOW
    )
    actions.change_roles(member=cast.vera, by=cast.olga, roles=[Role.VOLUNTEER], now=NOW)
    for member, by, name in ((cast.paul, cast.cora, "Pavel"), (cast.vera, cast.vera, "Vera")):
        actions.change_member(member=member, by=by, name=name, reach="", hand="left", now=NOW)
    change_drive(drive=drive, by=cast.olga, now=NOW, **(SETTINGS | {"claim_days": 9}))
    day = (NOW + DAY).date()
    meeting = calendar.add_meeting(drive=drive, day=day, by=cast.cora, now=NOW)
    calendar.drop_meeting(meeting=meeting, by=cast.cora, now=NOW)
    options = {"paper": Paper.A4}
    request_sheet(blanket=desk.blanket, by=cast.cora, kind=STATUS, options=options, now=NOW)
    actions.remove_member(member=cast.paul, by=cast.olga, now=NOW)
    text = vera.read(log(cast))
    sentences = (
        "Olga took Pavel out of the circle.",
        "Warm laps: Cora had a document made of Blanket: status sheet.",
        "Warm laps: Cora noted that there is no meeting on 3 November 2026 after all.",
        "Warm laps: Cora noted that there is a meeting on 3 November 2026.",
        "Warm laps: Olga changed the settings of the drive.",
        "Vera changed what the circle knows of them.",
        "Cora changed what the circle knows of Pavel.",
        "Olga changed Vera’s roles: volunteer.",
        "Olga changed Vera’s roles: coordinator and volunteer.",
        "Cora put Navy into the store: 100 g.",
        "Blanket: Vera took A1, until 16 November.",
        "Blanket: Olga planned the blanket: 4 squares.",
        "Warm laps: Olga made the drive.",
        "Olga added Pavel, who has no login.",
        "Vera came into the circle.",
        "Cora came into the circle.",
        "Olga made the circle.",
    )
    at = [text.index(sentence) for sentence in sentences]
    assert at == sorted(at)
    assert "2 November 2026, 10:00 Warm laps: Olga made the drive." in text
    page = vera.get(log(cast)).text
    assert f'<a href="/drives/{drive.pk}/">Warm laps</a>' in page
    assert f'<a href="/blankets/{desk.blanket.pk}/">Blanket</a>' in page
    circle = olga.get(f"/circles/{cast.circle.pk}/").text
    assert f'href="{log(cast)}"' in circle


def test_what_looks_after_others_is_for_those_who_do(
    cast: Cast, desk: Desk, vera: Reader, cora: Reader
) -> None:
    invited = actions.invite_person(
        by=cast.olga, roles=[Role.VOLUNTEER], days=1, now=NOW, email="dot@example.org"
    )
    actions.revoke_invitation(invitation=invited.invitation, by=cast.olga, now=NOW)
    first = NOW.date()
    away = calendar.add_absence(member=cast.paul, first=first, last=first, by=cast.cora, now=NOW)
    calendar.drop_absence(absence=away, by=cast.cora, now=NOW)
    calendar.add_absence(member=cast.vera, first=first, last=first, by=cast.vera, now=NOW)
    code = code_of(desk.square("A1"), now=NOW)
    leave_note(code=code, text="On the bus.", contact="0123 456", now=NOW)
    told = cora.read(log(cast))
    sentences = (
        "Blanket: A finder left a message about A1.",
        "Vera told of days away.",
        "Cora noted that Paul is not away after all.",
        "Cora noted days on which Paul is away.",
        "Olga revoked an invitation.",
        "Olga made an invitation that is good for 1 day.",
    )
    at = [told.index(sentence) for sentence in sentences]
    assert at == sorted(at)
    assert "example.org" not in told
    assert "0123" not in told
    hidden = vera.read(log(cast))
    assert [sentence for sentence in sentences if sentence in hidden] == []
    assert "invitation" not in hidden


def test_it_comes_in_pages_in_as_many_queries(
    cast: Cast, desk: Desk, vera: Reader, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    # Session, user, member; count, events; names of people, drives and blankets.
    with django_assert_num_queries(8):
        text = vera.read(log(cast))
    assert "Page" not in text
    for _turn in range(30):
        desk.claim("A1", cast.vera)
        desk.give_back("A1", by=cast.vera)
    with django_assert_num_queries(6):  # of the newest 50 all are about the blanket
        vera.read(log(cast))
    with django_assert_num_queries(8):
        vera.read(log(cast), {"page": 2})
    assert vera.read(log(cast)).endswith("Older Page 1 of 2")
    assert vera.read(log(cast), {"page": 2}).endswith("Olga made the circle. Newer Page 2 of 2")


@pytest.mark.usefixtures("desk")
def test_nothing_of_another_circle_is_told(cast: Cast, vera: Reader, stan: Reader) -> None:
    found("Faraway", login("Fay"))
    assert "Fay" not in vera.read(log(cast))
    assert stan.get(log(cast)).status_code == 404
    elsewhere = cast.stan.memberships.get().circle_id
    assert stan.read(f"/circles/{elsewhere}/log/").count("made the circle") == 1
    assert Event.objects.filter(circle=elsewhere).count() == 1
