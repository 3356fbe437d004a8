"""What may be true of a circle: paces, rests, leaving, drawn from what happened."""

from itertools import islice, pairwise
from math import exp, inf, isfinite, log
from random import Random
from statistics import fmean, median, pstdev

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.forecast.draws import REST, Draw, draws
from drives.craft.forecast.forecast import forecast
from drives.craft.forecast.history import History, Person, Spell
from drives.craft.forecast.learned import learned
from drives.craft.forecast.pace import SQUARE, Days
from drives.craft.forecast.paces import PaceSampler
from drives.craft.forecast.rests import Rests, RestSampler
from drives.craft.forecast.seen import Between, Work
from drives.craft.forecast.situation import InHand, Knitter, Situation, Together
from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import plan
from drives.craft.places import Place
from tests.craft.situations import often

ROW = plan(Layout(12, 1, 20))
PLACES = ROW.places


def exactly(days: float, nth: int = 9) -> Work:
    return Work(Between(days, days), nth)


def some(history: History, times: int = 60) -> list[Draw]:
    return list(islice(draws(history, Random(1)), times))


def in_turn(days: float, squares: int, ends: float = 0.0, people: int = 2) -> History:
    """The first of ``people`` knits ``squares`` one after the other; the last ends at ``ends``."""
    begins = ends - days * squares
    spells = [
        Spell(1, place, 0, begins + n * days, begins + (n + 1) * days, finished=True)
        for n, place in enumerate(PLACES[:squares])
    ]
    return History([Person(begins)] * people, spells, {1: ROW})


def test_with_nothing_seen_paces_are_the_guess() -> None:
    sampler, random = PaceSampler([[]], SQUARE), Random(1)
    drawn = [log(sampler.draw(random, [False]).median[0]) for _ in range(2000)]
    assert median(drawn) == pytest.approx(log(SQUARE.median), abs=0.1)
    assert pstdev(drawn) > SQUARE.doubt


def test_with_much_seen_paces_are_what_was_seen() -> None:
    random = Random(2)
    works = [[exactly(random.lognormvariate(log(12), 0.4)) for _ in range(400)]]
    sampler = PaceSampler(works, SQUARE)
    drawn = [sampler.draw(random, [False]) for _ in range(100)][20:]
    seen = [log(work.days.low) for work in works[0]]
    assert fmean(log(each.median[0]) for each in drawn) == pytest.approx(fmean(seen), abs=0.05)
    assert fmean(each.within for each in drawn) == pytest.approx(pstdev(seen), rel=0.05)


def test_days_that_are_not_over_do_not_make_a_knitter_quick() -> None:
    """All that takes more than six days is only known to: most of it, at a median of eight."""
    random = Random(3)
    days = [random.lognormvariate(log(8), 0.4) for _ in range(300)]
    works = [[exactly(d) if d < 6 else Work(Between(6, inf), 9) for d in days]]
    sampler = PaceSampler(works, SQUARE)
    drawn = [sampler.draw(random, [True]).median[0] for _ in range(150)][50:]
    assert fmean(drawn) == pytest.approx(8, rel=0.1)
    assert fmean(d for d in days if d < 6) < 5.5  # what was finished alone would tell that


def test_days_between_two_bounds_are_drawn_between_them() -> None:
    random = Random(4)
    days = [random.lognormvariate(log(10), 0.3) for _ in range(300)]
    works = [[Work(Between(7 * (d // 7), 7 * (d // 7 + 1)), 9) for d in days]]
    sampler = PaceSampler(works, SQUARE)
    drawn = [sampler.draw(random, [False]).median[0] for _ in range(150)][50:]
    assert fmean(drawn) == pytest.approx(10, rel=0.06)


def test_first_squares_that_take_longer_are_known_as_such() -> None:
    random = Random(5)
    works = [
        [exactly(random.lognormvariate(log(4) + 0.9 / (1 + nth), 0.2), nth) for nth in range(12)]
        for _ in range(12)
    ]
    sampler = PaceSampler(works, SQUARE)
    drawn = [sampler.draw(random, [False] * 12) for _ in range(150)][50:]
    assert fmean(each.lesson for each in drawn) == pytest.approx(0.9, abs=0.2)
    assert fmean(each.days(0, 0) / each.days(0, 99) for each in drawn) > 2


def kaplan_meier(over: list[float], open_: list[float], days: float) -> float:
    """The share of rests that are longer than ``days``."""
    share = 1.0
    for moment in sorted(set(over)):
        if moment <= days:
            at_risk = sum(each >= moment for each in (*over, *open_))
            share *= 1 - over.count(moment) / at_risk
    return share


def test_rests_are_those_of_kaplan_and_meier() -> None:
    random = Random(6)
    rests = [round(random.expovariate(0.3), 1) for _ in range(300)]
    seen = [(rest, random.uniform(0, 9)) for rest in rests]
    over = [rest for rest, watched in seen if rest <= watched]
    open_ = [watched for rest, watched in seen if rest > watched]
    known = [Between(rest, rest) for rest in over] + [Between(rest, inf) for rest in open_]
    sampler = RestSampler(known, REST)
    drawn = [sampler.draw(random) for _ in range(300)][60:]
    for days in (0.5, 2.0, 4.0):
        found = fmean(each.longer(days) for each in drawn)
        assert found == pytest.approx(kaplan_meier(over, open_, days), abs=0.03)


def test_a_rest_of_which_bounds_are_known_lies_between_them() -> None:
    rests = Rests([0.0, 1.0, 5.0], [1.0, 2.0, 3.0], tail=0.0)
    assert rests.between(0.5, 2.0, 0.9) == 1.0
    assert rests.between(-1, 0.0, 0.9) == 0.0
    assert rests.between(2.0, 3.0, 0.5) == 2.5  # none is known: somewhere
    assert rests.between(6.0, inf, 0.0) >= 6.0
    assert rests.longer(1.0) == pytest.approx(1 / 3)
    assert (rests.at(0.5), rests.mean) == (1.0, 2.0)


def test_who_finished_a_moment_ago_rests_and_who_is_long_silent_has_left() -> None:
    now, long_ago = (some(in_turn(4, 8, ends=ends)) for ends in (0.0, -60.0))
    assert fmean(each.free[0] == inf for each in now) < 0.1
    history = in_turn(4, 8, ends=-60.0)
    other = Spell(2, PLACES[0], 1, -3.0, inf, finished=False)  # somebody is there still
    there = some(History(history.people, [*history.spells, other], history.plans))
    assert fmean(each.free[0] == inf for each in there) > 0.25
    assert all(min(each.free) < inf for each in long_ago)  # alone, they are waited for


def test_who_never_took_any_of_many_never_begins() -> None:
    many, few = (some(in_turn(4, squares, people=3)) for squares in (11, 1))
    gone = [fmean(each.free[2] == inf for each in found) for found in (many, few)]
    assert gone[0] > 0.8 > 0.5 > gone[1]


def test_a_square_held_for_ages_is_not_expected_to_be_finished() -> None:
    history = in_turn(4, 8, ends=-200.0)
    held = Spell(1, PLACES[8], 0, -200.0, inf, finished=False)
    old = some(History(history.people, [*history.spells, held], history.plans))
    new = some(History(history.people, [*history.spells, held._replace(taken=-2.0)], history.plans))
    assert fmean(each.drops[0] for each in old) > 0.8
    assert fmean(each.drops[0] for each in new) < 0.1


def test_more_that_is_seen_leaves_less_doubt() -> None:
    doubts = [learned(in_turn(6, squares), seed=1).paces[0].doubt for squares in (1, 4, 11)]
    assert doubts == sorted(doubts, reverse=True)


def test_the_same_history_gives_the_same() -> None:
    history = in_turn(4, 5)
    assert some(history, 5) == some(history, 5)
    assert learned(history, seed=1) == learned(history, seed=1)


def test_of_whom_nothing_is_known_is_drawn_from_the_circle() -> None:
    for draw in some(in_turn(12, 11), 20):
        of = draw.of([None, 0], Random(1))
        assert of.paces.median[1] == draw.paces.median[0]
        assert of.free == [0.0, draw.free[0]]
        assert not of.drops[0]
    news = [
        draw.of([None], Random(n)).paces.median[0] for n, draw in enumerate(some(in_turn(12, 11)))
    ]
    assert median(news) == pytest.approx(12, rel=0.1)


@st.composite
def histories(draw: st.DrawFn) -> History:
    """Squares of a row taken, and finished, given back or held, with any pauses."""
    people = draw(st.integers(1, 4))
    days = st.floats(0, 400)
    spells: list[Spell] = []
    now = 0.0
    for place in PLACES[: draw(st.integers(0, 8))]:
        taken = now + draw(days)
        ended = taken + draw(days)
        who = draw(st.integers(-1, people - 1))
        for _ in range(draw(st.integers(0, 1))):
            spells.append(Spell(1, place, who, taken, ended, finished=False))
            taken, ended = ended, ended + draw(days)
        spells.append(Spell(1, place, who, taken, ended, finished=True))
        now = ended
    back = now + draw(days)
    moved = [each._replace(taken=each.taken - back, ended=each.ended - back) for each in spells]
    if draw(st.booleans()) and moved:
        moved[-1] = moved[-1]._replace(ended=inf, finished=False)
    met = (-14.0, -7.0) if draw(st.booleans()) else ()
    return History([Person(-back - draw(days))] * people, moved, {1: ROW}, met=met)


@often
@given(histories())
def test_whatever_happened_there_is_a_day_within_reason(history: History) -> None:
    finished = frozenset(each.place for each in history.spells if each.finished)
    in_hand = [
        InHand(each.place, each.knitter, each.taken)
        for each in history.spells
        if each.open and each.knitter >= 0
    ]
    people = [Knitter(Days(5.0), person=who) for who in range(len(history.people))]
    told = forecast(
        Situation(ROW, people, Together(), finished, in_hand, history=history), times=20, seed=1
    )
    moments = sorted(
        {
            0.0,
            *(each.taken for each in history.spells),
            *(min(each.ended, 0.0) for each in history.spells),
        }
    )
    gap = max((later - sooner for sooner, later in pairwise(moments)), default=0)
    assert isfinite(told.within(0.9))
    assert told.within(0.5) <= 100 * max(gap, exp(log(SQUARE.median) + 1))


def test_luck_stays_with_a_place_when_another_volunteer_comes() -> None:
    history = in_turn(4, 6)
    people = [Knitter(Days(5.0), person=who) for who in range(2)]
    situation = Situation(ROW, people, Together(1), frozenset(PLACES[:6]), history=history)
    more = situation.with_volunteer()
    assert forecast(situation, 20, 1).days == forecast(situation, 20, 1).days
    assert more.knitters[-1].person is None
    assert isfinite(forecast(more, 20, 1).within(1))


def test_one_held_square_tells_of_the_place_and_not_of_centuries() -> None:
    held = Spell(1, Place(1, 1), 0, -400.0, inf, finished=False)
    history = History([Person(-400.0)] * 2, [held], {1: ROW})
    people = [Knitter(Days(5.0), person=who) for who in range(2)]
    told = forecast(
        Situation(
            ROW, people, Together(), in_hand=[InHand(Place(1, 1), 0, -400.0)], history=history
        ),
        times=100, seed=1,
    )  # fmt: skip
    assert told.within(0.9) < 100 * 400
