"""What the rows say of people, paces and pieces."""

from dataclasses import replace
from datetime import timedelta

import pytest
from pytest_django import DjangoAssertNumQueries

from accounts.models import Member
from drives.actions.circles import calendar
from drives.craft.forecast.forecast import forecast
from drives.craft.forecast.history import History
from drives.craft.forecast.pace import SQUARE
from drives.craft.forecast.situation import Together, Travelling
from drives.craft.layout.layout import Mitre
from drives.craft.layout.rows import worked
from drives.models import Claim, Drive, Mode
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


def past(known: Outlook) -> History:
    assert known.situation.history
    return known.situation.history


def test_a_pace_is_learned_from_the_days_of_ones_own_squares(cast: Cast, plan: Plan) -> None:
    desk = plan(8, 1)
    for tens, name in enumerate("ABCDEFGH"):
        desk.claim(f"{name}1", cast.vera, at=NOW + 10 * tens * DAY)
        desk.finish(f"{name}1", cast.vera, at=NOW + 10 * (tens + 1) * DAY)
    known = look(desk, 81 * DAY)
    knitters = known.situation.knitters
    vera, paul = (knitters[number(known, member)].pace for member in (cast.vera, cast.paul))
    assert vera.median == pytest.approx(10, rel=0.1)
    assert vera.doubt < 0.6 * paul.doubt
    # Who has finished nothing is expected to be like the circle, and not like the guess.
    assert SQUARE.median < paul.median < 12
    assert known.observed == 8


def test_days_of_a_larger_square_count_for_less(cast: Cast, plan: Plan) -> None:
    small, large = plan(1, 1, stitches=20), plan(1, 1, stitches=40)
    large.claim("A1", cast.vera)
    large.finish("A1", cast.vera, at=NOW + 8 * DAY)
    (spell,) = past(look(small, 9 * DAY)).spells
    # By the area: a side twice as long is about four times the stitches.
    assert spell.units == worked(40, Mitre.PAIRED) / worked(20, Mitre.PAIRED)
    assert 3.8 < spell.units < 4.1


def test_what_was_given_back_and_what_is_open_is_known_too(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 1)
    desk.claim("A1", cast.vera)
    desk.give_back("A1", cast.vera, at=NOW + DAY)
    desk.claim("A1", cast.paul, by=cast.cora, at=NOW + 2 * DAY)
    known = look(desk, 3 * DAY)
    assert known.observed == 0
    first, second = past(known).spells
    assert not first.finished
    assert first.ended - first.taken == pytest.approx(1)
    assert (second.open, second.knitter) == (True, number(known, cast.paul))
    grace = desk.blanket.drive.grace_days
    due = (Claim.objects.open().get().due_at - (MORNING + 3 * DAY)) / DAY
    assert second.lapses == pytest.approx(due + grace)
    (in_hand,) = known.situation.in_hand
    assert in_hand.lapses == second.lapses


def test_all_blankets_of_the_circle_wait_for_the_same_hands(cast: Cast, plan: Plan) -> None:
    desk, other, asleep, done = plan(3, 1), plan(2, 2, mode=Mode.TRAVELLING), plan(2, 1), plan(1, 1)
    other.claim("A1", cast.vera, at=NOW)
    asleep.claim("A1", cast.paul, by=cast.cora, at=NOW - 70 * DAY)
    done.knit("A1", cast.paul, at=NOW)
    known = look(desk, DAY)
    (work,) = known.situation.others
    assert isinstance(work.mode, Travelling)
    assert [square.knitter for square in work.in_hand] == [number(known, cast.vera)]
    assert len(known.situation.shares) == 2
    assert {spell.blanket for spell in past(known).spells} == {
        each.blanket.pk for each in (other, asleep, done)
    }


def test_one_who_knits_elsewhere_is_later_here(cast: Cast, plan: Plan) -> None:
    desk, other = plan(4, 4), plan(9, 9)
    desk.claim("A1", cast.vera)
    other.claim("A1", cast.paul, by=cast.cora)
    both = look(desk).situation
    alone = replace(both, others=(), shares=())
    assert forecast(both, 60, 1).within(0.5) > 1.3 * forecast(alone, 60, 1).within(0.5)


def test_days_of_the_week_are_learned(cast: Cast, plan: Plan) -> None:
    desk = plan(9, 1)
    for week, name in enumerate("ABCDEFGHI"):  # taken on different days, finished on Saturdays
        at = NOW + (7 * week + week % 5) * DAY
        desk.claim(f"{name}1", cast.vera, at=at)
        desk.finish(f"{name}1", cast.vera, at=NOW + (7 * week + 5) * DAY)
    known = look(desk, 7 * 9 * DAY).situation.week  # a Monday again
    assert known
    assert known.rates.index(max(known.rates)) == 5
    assert look(desk, 7 * 9 * DAY).situation.meets is None


def test_those_who_only_meet_are_known_by_their_days(cast: Cast, plan: Plan) -> None:
    desk = plan(9, 1)
    for week, name in enumerate("ABC"):
        desk.claim(f"{name}1", cast.vera, at=NOW + 7 * week * DAY)
        desk.finish(f"{name}1", cast.vera, at=NOW + 7 * (week + 1) * DAY)
    situation = look(desk, 22 * DAY).situation
    assert situation.meets
    assert situation.meets.days == (6, 13)  # the next Mondays, from a Tuesday


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
    away = ((-9.0, -2.0), (2.0, 7.0), (10.0, 11.0))
    assert known.situation.knitters[number(known, cast.vera)].away == away
    assert known.situation.knitters[number(known, cast.paul)].away == ()


def test_squares_in_hand_have_been_begun(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 1)
    desk.claim("A1", cast.vera)
    known = look(desk, 3 * DAY)
    (in_hand,) = known.situation.in_hand
    assert known.members[in_hand.knitter] == cast.vera
    assert in_hand.begun == pytest.approx((NOW - (MORNING + 3 * DAY)) / DAY)
    # This day: what is to come begins then.
    assert look(desk).situation.by_knitting().in_hand[0].begun == 0


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
    desk = plan(mode=Mode.TRAVELLING, passing="meet", meet_every=5)
    first, second = look(desk).meetings.days
    since = TODAY - desk.blanket.drive.created_at.date()
    assert (since.days + first) % 5 == 0
    assert second == first + 5
    for days in (-7, 0, 7):
        calendar.add_meeting(
            drive=desk.blanket.drive, day=TODAY + days * DAY, by=cast.cora, now=NOW - 8 * DAY
        )
    mode = look(desk).situation.mode
    assert isinstance(mode, Travelling)
    assert mode.meetings
    assert mode.meetings.days == (0.0, 7.0)
    Drive.objects.update(passing="keep")
    desk.blanket.drive.refresh_from_db()
    kept = look(desk)
    assert isinstance(kept.situation.mode, Travelling)
    assert (kept.situation.mode.meetings, kept.situation.mode.turn) == (None, None)
    assert kept.meetings.days == (0.0, 7.0)


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
    with django_assert_num_queries(8):
        outlook(board, NOW)
