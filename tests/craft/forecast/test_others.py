"""Several blankets in front of the same hands, and rests between squares, played by hand."""

from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.forecast.causes import Blame, Cause, blames
from drives.craft.forecast.draws import Draw
from drives.craft.forecast.forecast import forecast
from drives.craft.forecast.pace import Days
from drives.craft.forecast.paces import Paces
from drives.craft.forecast.prepared import Prepared
from drives.craft.forecast.rests import Rests
from drives.craft.forecast.run import HELD, Run
from drives.craft.forecast.situation import (
    InHand,
    Knitter,
    Meetings,
    Situation,
    Together,
    Travelling,
    Work,
)
from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import plan
from tests.craft.situations import often, situations, steady

ROW, PAIR = plan(Layout(3, 1, 20)), plan(Layout(2, 1, 20))
OTHER = Work(PAIR, Together())


def drawn(rest: float = 0.0, people: int = 1, **changed: object) -> Draw:
    facts: dict[str, object] = {
        "paces": Paces([5.0] * people, 5.0, 0.1, 1e-9, 0.0),
        "done": [0] * people, "free": [0.0] * people, "drops": [False] * people,
        "rests": Rests([rest], [1.0], 0.0),
        "leaving": 0, "giving_up": 0, "stopping": 0, "rested": 0,
    }  # fmt: skip
    return Draw(**(facts | changed))  # type: ignore[arg-type]


def played(situation: Situation, draw: Draw | None = None) -> Run:
    return Run(Prepared(situation), Random(1), draw)


def test_what_is_in_hand_elsewhere_comes_first() -> None:
    busy = Work(PAIR, Together(), in_hand=[InHand(PAIR.places[0], 0, begun=-2.0)])
    run = played(Situation(ROW, [steady(5)], Together(), others=[busy], shares=[1, 1e-12]))
    assert run.days == 3 + 15
    assert blames(run)[Blame(Cause.ELSEWHERE)] == 3


def test_people_knit_what_they_choose_and_that_is_told() -> None:
    run = played(Situation(ROW, [steady(5)], Together(), others=[OTHER], shares=[1e-12, 1]))
    assert run.days == 10 + 15
    assert blames(run) == {Blame(Cause.ELSEWHERE): 10, Blame(Cause.ORDER): 15}
    assert [str(square.place) for square in run.knitted()] == ["A1", "B1", "C1"]
    assert run.finishes() == [15, 20, 25]


def test_a_run_ends_with_the_blanket_that_is_asked_about() -> None:
    huge = Work(plan(Layout(30, 30, 20)), Travelling(Days(3)))
    run = played(Situation(PAIR, [steady(5)] * 2, Together(), others=[huge], shares=[1, 1e-12]))
    assert run.days == 10
    assert sum(square >= 2 for square in run.order) <= 3


def test_rests_between_squares_are_told_as_such() -> None:
    run = played(Situation(ROW, [steady(5)], Together()), drawn(rest=2))
    assert run.days == pytest.approx(3 * 5 + 2 * 2)
    assert blames(run)[Blame(Cause.REST)] == pytest.approx(4)
    assert sum(blames(run).values()) == pytest.approx(run.days)


def test_who_rests_does_not_hold_up_who_is_free() -> None:
    run = played(Situation(ROW, [steady(5)] * 2, Together()), drawn(rest=4, people=2))
    assert run.days == pytest.approx(15)


def test_a_square_that_is_dropped_waits_until_it_lapses() -> None:
    hands = [InHand(ROW.places[0], 0, begun=-4.0, lapses=6.0)]
    situation = Situation(ROW, [steady(5)] * 2, Together(), in_hand=hands)
    draw = drawn(people=2, drops=[True, False], stopping=1)
    run = played(situation, draw)
    assert run.days == pytest.approx(6 + 15)
    assert {square.knitter for square in run.knitted()} == {1}
    never_told = Situation(
        ROW, [steady(5)] * 2, Together(), in_hand=[hands[0]._replace(lapses=1e9)]
    )
    assert played(never_told, draw).days > HELD


def test_who_has_left_gets_nothing_and_the_last_one_stays() -> None:
    situation = Situation(ROW, [steady(5)] * 2, Together())
    run = played(situation, drawn(people=2, free=[float("inf"), 0.0], leaving=1))
    assert {square.knitter for square in run.knitted()} == {1}
    assert run.days == pytest.approx(15)


@often
@given(situations(4), situations(4), st.integers(0, 5))
def test_whatever_else_is_worked_on_everything_is_finished(
    mine: Situation, more: Situation, seed: int
) -> None:
    other = Work(more.plan, more.mode, more.finished)
    knitters = [Knitter(each.pace) for each in mine.knitters]
    both = Situation(
        mine.plan, knitters, mine.mode, mine.finished, mine.in_hand, mine.holders, [other]
    )
    (run,) = [Run(Prepared(both), Random(seed))]
    found = {square.place for square in run.knitted()}
    assert found == set(mine.plan.places) - mine.finished
    assert sum(blames(run).values()) == pytest.approx(run.days)
    assert forecast(both, 2, seed).days == forecast(both, 2, seed).days


def test_a_square_knitted_in_no_time_at_a_meeting_is_not_its_own_cause() -> None:
    situation = Situation(ROW, [steady(5)], Together(), meets=Meetings((7.0, 14.0)))
    run = played(situation, drawn(paces=Paces([0.001], 5.0, 0.1, 1e-9, 0.0)))
    assert run.days == 7
    assert sum(blames(run).values()) == pytest.approx(run.days)
