"""Ways to pass travelling pieces on, against sums by hand."""

from random import Random

import pytest

from drives.craft.forecast.draws import Draw
from drives.craft.forecast.forecast import forecast
from drives.craft.forecast.pace import Days
from drives.craft.forecast.paces import Paces
from drives.craft.forecast.passing import (
    Passing,
    Step,
    meeting_days,
    next_step,
    passed_by,
    with_passing,
)
from drives.craft.forecast.prepared import Prepared
from drives.craft.forecast.rests import Rests
from drives.craft.forecast.run import Run
from drives.craft.forecast.situation import Meetings, Situation, Together, Travelling
from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import plan
from tests.craft.situations import steady

SQUARE = plan(Layout(3, 3, 20))
MEETINGS = Meetings((14.0, 28.0))


def days(people: int, passing: Passing, hand_over: float = 3) -> float:
    """Of nine squares of five days each, on one piece."""
    situation = Situation(SQUARE, [steady(5)] * people, Travelling(Days(hand_over)))
    return forecast(with_passing(situation, passing, MEETINGS), 1, 1).within(1)


def test_who_keeps_a_piece_needs_no_hand_over() -> None:
    assert days(1, Passing.KEEP) == days(2, Passing.KEEP) == days(5, Passing.KEEP) == 9 * 5
    assert days(1, Passing.AFTER_EACH) == 9 * 5


def test_passing_on_after_each_square_costs_a_hand_over_for_each_but_the_first() -> None:
    assert days(2, Passing.AFTER_EACH) == 9 * 5 + 8 * 3
    assert days(5, Passing.AFTER_EACH, hand_over=7) == 9 * 5 + 8 * 7


def test_at_meetings_a_piece_goes_on_only_when_nobody_works_on_it() -> None:
    situation = Situation(SQUARE, [steady(5)] * 2, Travelling(Days(3)))
    mode = with_passing(situation, Passing.MEET, MEETINGS).mode
    assert isinstance(mode, Travelling)
    assert mode.meetings == MEETINGS
    known = Travelling(Days(3), Meetings((4.0, 9.0)), turn=1)
    mode = with_passing(Situation(SQUARE, [steady(5)], known), Passing.MEET, MEETINGS).mode
    assert isinstance(mode, Travelling)
    assert mode.meetings == known.meetings


@pytest.mark.parametrize("passing", Passing)
def test_each_way_is_known_again(passing: Passing) -> None:
    situation = Situation(SQUARE, [steady(5)], Travelling(Days(3), turn=1))
    mode = with_passing(situation, passing, MEETINGS).mode
    assert isinstance(mode, Travelling)
    assert passed_by(mode) == passing


def test_together_nothing_is_passed_on() -> None:
    situation = Situation(SQUARE, [steady(5)], Together())
    assert with_passing(situation, Passing.KEEP, MEETINGS) == situation


def test_meetings_that_are_noted_come_first_then_every_so_many_days() -> None:
    assert meeting_days([-3, 0, 9], made=-30, every=7) == (0, 9)
    assert meeting_days([5], made=-30, every=7) == (5, 12)
    assert meeting_days([5], made=-30, every=None) == (5,)
    # From the last one, or from the day on which the drive was made: not that day itself.
    assert meeting_days([-10, -3], made=-30, every=7) == (4, 11)
    assert meeting_days([], made=-30, every=None) == (12, 26)
    assert meeting_days([], made=-28, every=14) == (0, 14)
    assert meeting_days([], made=0, every=14) == (14, 28)


def test_only_who_keeps_a_piece_goes_on_while_somebody_waits() -> None:
    for in_work, can_begin, goes_on in (
        (True, False, Step.FINISH),
        (False, True, Step.BEGIN),
        (False, False, None),
    ):
        facts = {"in_work": in_work, "can_begin": can_begin}
        for passing in Passing:
            assert next_step(passing, **facts, waited_for=False) is goes_on
            waited = next_step(passing, **facts, waited_for=True)
            assert waited is (goes_on if passing is Passing.KEEP and goes_on else Step.GIVE)


def resting(rest: float, turn: int | None, away: tuple[tuple[float, float], ...] = ()) -> float:
    """Two people of five days a square, who rest after each: the days for nine on one piece."""
    draw = Draw(
        paces=Paces([5.0, 5.0], 5.0, 0.1, 1e-9, 0.0),
        done=[0, 0], free=[0.0, 0.0], drops=[False, False],
        rests=Rests([rest], [1.0], 0.0),
        leaving=0, giving_up=0, stopping=0, rested=0,
    )  # fmt: skip
    people = [steady(5, *away), steady(5, *away)]
    situation = Situation(SQUARE, people, Travelling(Days(30), turn=turn))
    return Run(Prepared(situation), Random(1), draw).days


def test_who_keeps_a_piece_and_rests_is_waited_for() -> None:
    assert resting(2, turn=None) == pytest.approx(9 * 5 + 8 * 2)
    # Passed on after each square it is on its way for longer than anybody rests.
    assert resting(2, turn=1) == pytest.approx(9 * 5 + 8 * 30)
