"""What the rows say of people, paces and pieces."""

from datetime import timedelta

import pytest
from pytest_django import DjangoAssertNumQueries

from accounts.models import Member
from drives.actions.circles import calendar
from drives.craft.forecast.pace import SQUARE, circles_prior, pace
from drives.craft.forecast.situation import Together, Travelling
from drives.craft.layout.layout import Mitre
from drives.craft.layout.rows import worked
from drives.models import Mode
from drives.readings.board import board_of
from drives.readings.outlook import Outlook, outlook
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk, places

MORNING = NOW.replace(hour=0)
TODAY = NOW.date()


def look(desk: Desk, at: timedelta = timedelta()) -> Outlook:
    return outlook(board_of(desk.blanket), NOW + at)


def number(known: Outlook, member: Member) -> int:
    return known.members.index(member)


def test_those_who_knit_are_there_and_whoever_has_a_square(cast: Cast, plan: Plan) -> None:
    desk = plan()
    before = look(desk).members
    assert cast.cora not in before
    assert {cast.olga, cast.vera, cast.paul} <= set(before)
    desk.claim("A1", cast.vera)
    cast.vera.is_volunteer, cast.vera.is_coordinator = False, True
    cast.vera.save(update_fields=["is_volunteer", "is_coordinator"])
    assert cast.vera in look(desk).members


def test_a_pace_is_learned_from_the_days_of_ones_own_squares(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 1)
    for name, days in (("A1", 2), ("B1", 4)):
        desk.claim(name, cast.vera)
        desk.finish(name, cast.vera, at=NOW + days * DAY)
    known = look(desk, 5 * DAY)
    prior = circles_prior([[2.0, 4.0]])
    knitters = known.situation.knitters
    assert knitters[number(known, cast.vera)].pace == pytest.approx(pace([2.0, 4.0], prior))
    assert knitters[number(known, cast.paul)].pace == pytest.approx(pace([], prior))
    assert known.observed == 2
    assert prior.median < SQUARE.median


def test_days_of_a_larger_square_count_for_less(cast: Cast, plan: Plan) -> None:
    small, large = plan(1, 1, stitches=20), plan(1, 1, stitches=40)
    large.claim("A1", cast.vera)
    large.finish("A1", cast.vera, at=NOW + 8 * DAY)
    known = look(small, 9 * DAY)
    learned = known.situation.knitters[number(known, cast.vera)].pace
    # By the area: a side twice as long is about four times the stitches.
    days = 8 * worked(20, Mitre.PAIRED) / worked(40, Mitre.PAIRED)
    assert 1.9 < days < 2.1
    assert learned == pytest.approx(pace([days], circles_prior([[days]])))


def test_what_was_given_back_tells_no_pace(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    desk.give_back("A1", cast.vera, at=NOW + DAY)
    assert look(desk, 2 * DAY).observed == 0


def test_absences_are_days_from_this_morning_and_join(cast: Cast, plan: Plan) -> None:
    for first, last in ((2, 4), (5, 6), (4, 5), (10, 10), (-9, -3)):
        calendar.add_absence(
            member=cast.vera,
            first=TODAY + first * DAY,
            last=TODAY + last * DAY,
            by=cast.vera,
            now=NOW,
        )
    known = look(plan())
    assert known.situation.knitters[number(known, cast.vera)].away == ((2.0, 7.0), (10.0, 11.0))
    assert known.situation.knitters[number(known, cast.paul)].away == ()


def test_squares_in_hand_have_been_begun(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 1)
    desk.claim("A1", cast.vera)
    known = look(desk, 3 * DAY)
    (in_hand,) = known.situation.in_hand
    assert known.members[in_hand.knitter] == cast.vera
    assert in_hand.begun == pytest.approx((NOW - (MORNING + 3 * DAY)) / DAY)
    assert look(desk).situation.in_hand[0].begun == 0  # this day: not in the future


def test_it_is_the_same_all_day_long(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 1)
    desk.claim("A1", cast.vera)
    assert look(desk) == look(desk, timedelta(hours=13))
    assert look(desk) != look(desk, timedelta(hours=14))  # NOW is ten o'clock


def test_the_mode_is_the_drives(cast: Cast, plan: Plan) -> None:
    assert look(plan()).situation.mode == Together(None)
    travelling = look(plan(mode=Mode.TRAVELLING)).situation.mode
    assert isinstance(travelling, Travelling)
    assert (travelling.at_once, travelling.meetings) == (1, None)
    assert travelling.hand_over.median == pytest.approx(3)


def test_meetings_are_told_in_days(cast: Cast, plan: Plan) -> None:
    desk = plan(mode=Mode.TRAVELLING)
    for days in (-7, 0, 7):
        calendar.add_meeting(
            drive=desk.blanket.drive, day=TODAY + days * DAY, by=cast.cora, now=NOW - 8 * DAY
        )
    mode = look(desk).situation.mode
    assert isinstance(mode, Travelling)
    assert mode.meetings
    assert mode.meetings.days == (0.0, 7.0)


def test_who_has_a_piece_is_known_for_its_squares(cast: Cast, plan: Plan) -> None:
    desk = plan(mode=Mode.TRAVELLING)
    desk.knit("A1 A2", cast.vera)
    known = look(desk)
    assert known.situation.holders == dict.fromkeys(places("A1 A2"), number(known, cast.vera))
    assert known.situation.finished == set(places("A1 A2"))


@pytest.mark.parametrize("side", [2, 12])
def test_it_costs_the_same_queries_at_every_size(
    cast: Cast, plan: Plan, side: int, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    desk = plan(side, side, mode=Mode.TRAVELLING)
    desk.knit("A1 A2", cast.vera)
    board = board_of(desk.blanket)
    with django_assert_num_queries(6):
        outlook(board, NOW)
