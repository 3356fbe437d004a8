"""The latest day to begin a square: delayed until then the day holds, by more it does not."""

from math import inf
from random import Random

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from drives.craft.forecast.forecast import runs_of
from drives.craft.forecast.latest import latest, latest_begins, latest_start
from drives.craft.forecast.prepared import Prepared
from drives.craft.forecast.run import Run
from drives.craft.forecast.situation import (
    InHand,
    Situation,
    Together,
    Travelling,
    after,
    present,
)
from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import plan
from drives.craft.places import Place
from tests.craft.situations import cut, often, situations, steady


def end_if(run: Run, late: int | None = None, moment: float = -inf) -> float:
    """When all is finished if the square ``late`` is not begun before ``moment``.

    Everybody knits what they knitted, in that order; who is next on a full piece waits.
    """
    prepared, situation = run.prepared, run.prepared.situation
    mode = situation.mode
    room = mode.at_once or len(run.who) + 1
    meetings = mode.meetings if isinstance(mode, Travelling) else None
    begun, ends = set(situation.finished), dict.fromkeys(situation.finished, -inf)
    free: dict[int, float] = {}
    for square in sorted(range(len(run.who)), key=lambda each: (run.given[each], each)):
        place, who = prepared.places[square], run.who[square]
        begun.add(place)
        fabric = next(each for each in situation.plan.pieces(among=begun) if place in each)
        on_it = sorted((ends[each] for each in fabric if each != place), reverse=True)
        ready = [ends[support] for support in situation.plan.stands_on[place]]
        ready += [free.get(who, -inf), *on_it[room - 1 : room]]
        start = max(ready, default=-inf)
        if run.given[square] == 0:
            start = 0.0
        elif meetings and run.given[square] == meetings.after(run.given[square] - 1e-6):
            start = meetings.after(max(start, moment if square == late else 0.0, 0.0) - 1e-6)
        start += run.since(square) - run.given[square]
        if square == late:
            start = max(start, moment)
        away = prepared.away[who]
        days = present(run.since(square), run.ended[square], away)
        ends[place] = free[who] = after(start, days, away)
    return max(ends.values())


@often
@given(situations(), st.integers(0, 40), st.data())
def test_until_then_the_day_holds_and_afterwards_it_does_not(
    situation: Situation, more: int, data: st.DataObject
) -> None:
    run = Run(Prepared(situation), Random(5))
    assume(run.order and run.days < inf)
    wanted = run.days + more
    begins = latest_begins(run, wanted)
    square = data.draw(st.sampled_from(run.order))
    assume(run.given[square] > 0)
    assert begins[square] >= run.since(square) - 1e-9
    assert end_if(run, square, begins[square] - 1e-6) <= wanted + 1e-6
    if situation.mode.at_once in (None, 1):  # else somebody else makes room
        assert end_if(run, square, begins[square] + 1e-3) > wanted


@often
@given(situations())
def test_where_time_is_short_something_is_begun_too_late(situation: Situation) -> None:
    run = Run(Prepared(situation), Random(5))
    assume(run.order and run.days < inf)
    begins = latest_begins(run, run.days - 1)
    assert any(begins[square] < run.since(square) for square in run.order)


@given(
    st.integers(0, 120).map(lambda half: half / 2),
    st.integers(1, 60).map(lambda half: half / 2),
    st.lists(st.integers(-20, 80), max_size=6, unique=True).map(sorted),
)
def test_latest_start_is_the_last_that_ends_in_time(
    end: float, days: float, moments: list[int]
) -> None:
    away = [(float(a), float(b)) for a, b in zip(moments[::2], moments[1::2], strict=False)]
    start = latest_start(end, days, away)
    assert after(start, days, away) <= end + 1e-9
    assert after(start + 1e-3, days, away) > end


def test_by_hand_two_people_and_a_chain() -> None:
    """A1 B1 C1 in a row by one of four days; of the other row the last two have time."""
    situation = Situation(plan(Layout(3, 1, 20)), [steady(4)], Together())
    told = {str(each.place): each for each in latest(runs_of(situation, 4, 1), 20)}
    assert [told[name].expected for name in ("A1", "B1", "C1")] == [0, 4, 8]
    assert [told[name].sure for name in ("A1", "B1", "C1")] == [8, 12, 16]
    assert {each.slack for each in told.values()} == {8}
    assert {each.half - each.sure for each in told.values()} == {0}


def test_luck_makes_the_surer_day_the_earlier_one() -> None:
    knitter = steady(4)._replace(pace=steady(4).pace._replace(spread=0.5))
    situation = Situation(plan(Layout(3, 2, 20)), [knitter, knitter], Together())
    told = latest(runs_of(situation, 100, 1), 40)
    assert len(told) == 6
    assert all(each.sure < each.half for each in told)
    assert told[0].place == Place.parse("A1")
    assert told == sorted(told, key=lambda each: (each.sure, each.half, each.place))


def test_what_is_in_hand_has_been_begun_and_what_has_no_end_is_too_late() -> None:
    in_hand = [InHand(Place.parse("A1"), 0)]
    layout = plan(Layout(2, 1, 20))
    begun = Situation(layout, [steady(4)], Together(), in_hand=in_hand)
    assert [str(each.place) for each in latest(runs_of(begun, 2, 1), 20)] == ["B1"]
    away = Situation(layout, [steady(4, (0.0, inf))], Together())
    assert {each.sure for each in latest(runs_of(away, 2, 1), 20)} == {-inf}


@pytest.mark.parametrize(("line", "slack"), [((), 0), ((2,), 4)])
def test_one_pair_of_hands_on_a_piece_makes_others_wait(line: tuple[int, ...], slack: int) -> None:
    """Cut in two, one of them has time: together they are one piece that is worked on in turn."""
    people = [steady(2), steady(2), steady(2)]
    situation = Situation(cut(4, 1, *line), people, Together(1))
    run = Run(Prepared(situation), Random(1))
    begins = latest_begins(run, run.days + slack)
    assert min(begins[square] - run.since(square) for square in run.order) == slack
