"""Small circles played by hand: who knits what and when, what holds them up, what would help."""

from bisect import bisect_left, bisect_right
from math import inf
from random import Random
from statistics import quantiles

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.forecast.causes import Blame, Cause
from drives.craft.forecast.fabrics import Fabrics
from drives.craft.forecast.forecast import Forecast, Never, forecast, quantile, runs_of
from drives.craft.forecast.pace import Days
from drives.craft.forecast.prepared import Prepared
from drives.craft.forecast.situation import (
    InHand,
    Knitter,
    Meetings,
    Situation,
    Together,
    Travelling,
)
from drives.craft.layout.layout import Large, Layout
from drives.craft.layout.plan import plan
from tests.craft.brief import places
from tests.craft.situations import cut, often, steady

ROW = plan(Layout(3, 1, 20))  # A1, B1, C1, one after the other
A1, B1, C1, A2, B2, C2 = places("A1", "B1", "C1", "A2", "B2", "C2")
POST = Travelling(Days(7))


def played(situation: Situation) -> dict[str, tuple[int, float, float]]:
    """Who works at each square, from when and until when."""
    (run,) = runs_of(situation, 1, seed=1)
    return {
        str(square.place): (square.knitter, square.since, square.ended) for square in run.knitted()
    }


def causes(told: Forecast) -> dict[Blame, float]:
    return {held.blame: round(held.share, 6) for held in told.held_back}


def test_the_quickest_who_is_free_takes_the_next() -> None:
    found = played(Situation(ROW, [steady(3), steady(2), steady(2)], Together()))
    assert found == {"A1": (1, 0, 2), "B1": (1, 2, 4), "C1": (1, 4, 6)}


def test_who_leaves_is_given_nothing_until_they_come_back() -> None:
    quick, slow = steady(1, (1, 10)), steady(5)
    found = played(Situation(ROW, [quick, slow], Together()))
    assert found == {"A1": (0, 0, 1), "B1": (1, 1, 6), "C1": (1, 6, 11)}
    found = played(Situation(ROW, [quick], Together()))
    assert found == {"A1": (0, 0, 1), "B1": (0, 10, 11), "C1": (0, 11, 12)}


def test_who_has_a_square_takes_it_along() -> None:
    found = played(Situation(ROW, [steady(2, (1, 10))], Together()))
    assert found["A1"] == (0, 0, 11)


def test_a_large_square_takes_as_long_as_its_stitches() -> None:
    # 2n² + 2n + 1 stitches (rows.worked): 841 for n = 20, 3 281 for n = 40
    big = plan(Layout(2, 2, 20, large=frozenset({Large(A1, 2)})))
    assert played(Situation(big, [steady(841)], Together())) == {"A1": (0, 0, 3281)}


def test_a_square_in_hand_goes_on() -> None:
    in_hand = [InHand(B1, 0, begun=-2)]
    situation = Situation(ROW, [steady(3), steady(1)], Together(), frozenset({A1}), in_hand)
    assert played(situation) == {"B1": (0, 0, 1), "C1": (1, 1, 2)}


def test_days_away_are_no_days_in_hand() -> None:
    in_hand = [InHand(B1, 0, begun=-5)]
    away = steady(3, (-4, -1))
    assert played(Situation(ROW, [away], POST, frozenset({A1}), in_hand))["B1"] == (0, 0, 1)


def test_what_should_be_finished_long_ago_is_expected_at_any_moment() -> None:
    in_hand = [InHand(B1, 0, begun=-50)]
    situation = Situation(ROW, [steady(3)], Together(), frozenset({A1}), in_hand)
    assert played(situation)["B1"] == (0, 0, 0)
    uncertain = [Knitter(Days(3, spread=0.5))]
    late = Situation(ROW, uncertain, Together(), frozenset({A1}), in_hand)
    fresh = Situation(ROW, uncertain, Together(), frozenset({A1}), [InHand(B1, 0)])
    # The longer it has taken, the longer it will: the hazard of a lognormal time falls at last.
    waits = [
        sorted(next(play.knitted()).ended for play in runs_of(each, 400, seed=1))[200]
        for each in (late, fresh)
    ]
    assert waits[0] > waits[1] == pytest.approx(3, rel=0.1)


def test_of_what_has_not_been_enough_the_rest_of_the_distribution_is_left() -> None:
    """Against rejection: the same lognormal times, only those longer than four days kept."""
    situation = Situation(
        ROW, [Knitter(Days(3, spread=0.5))], Together(), frozenset({A1}), [InHand(B1, 0, -4)]
    )
    ours = [4 + next(play.knitted()).ended for play in runs_of(situation, 4000, seed=3)]
    random = Random(4)
    kept = [
        days for days in (random.lognormvariate(1.0986123, 0.5) for _ in range(30_000)) if days > 4
    ]
    assert quantiles(ours, n=4) == pytest.approx(quantiles(kept, n=4), rel=0.03)


def test_a_piece_on_its_way_is_awaited() -> None:
    in_hand = [InHand(B1, 0, begun=4)]
    found = played(Situation(ROW, [steady(3)], POST, frozenset({A1}), in_hand))
    assert found == {"B1": (0, 4, 7), "C1": (0, 7, 10)}


def test_a_second_square_in_the_same_hands_waits_for_them() -> None:
    square = plan(Layout(2, 2, 20))
    in_hand = [InHand(A2, 0, begun=-1), InHand(B1, 0)]
    quick = steady(1)
    situation = Situation(square, [steady(3), quick], Together(), frozenset({A1}), in_hand)
    assert played(situation) == {"A2": (0, 0, 2), "B1": (0, 2, 5), "B2": (1, 5, 6)}


def test_a_square_on_two_pieces_makes_one_with_all_who_work_on_them() -> None:
    corner = plan(Layout(3, 3, 20, missing=frozenset({A1})))  # A2 and B1 begin a piece each
    found = played(Situation(corner, [steady(2)] * 4, Together(2)))
    assert (found["C1"][1], found["B2"][1], found["A3"][1]) == (2, 2, 4)


def test_travelling_the_holder_goes_on_and_nobody_asks() -> None:
    found = played(Situation(ROW, [steady(5), steady(1)], POST, frozenset({A1}), (), {A1: 0}))
    assert found == {"B1": (0, 0, 5), "C1": (0, 5, 10)}


def test_travelling_a_new_piece_goes_to_who_has_none() -> None:
    found = played(Situation(cut(2, 2, 1), [steady(3), steady(2)], POST))
    assert found == {"A1": (1, 0, 2), "A2": (1, 2, 4), "B1": (0, 0, 3), "B2": (0, 3, 6)}


def test_travelling_two_pieces_must_be_in_one_pair_of_hands() -> None:
    corner = plan(Layout(2, 2, 20, missing=frozenset({A1})))  # B2 joins A2 and B1
    found = played(Situation(corner, [steady(2), steady(3)], POST))
    # Bases are offered from the bottom: B1 to the quickest. Who has one piece gets the other.
    assert found == {"B1": (0, 0, 2), "A2": (1, 0, 3), "B2": (0, 10, 12)}


def test_a_piece_that_arrives_while_its_receiver_is_away_waits() -> None:
    people = [steady(2, (2, 60)), steady(3, (5, 20))]
    found = played(Situation(ROW, people, POST, frozenset({A1}), (), {A1: 0}))
    assert found["C1"] == (1, 9, 23)


def test_at_meetings_pieces_change_hands_without_delay() -> None:
    corner = plan(Layout(2, 2, 20, missing=frozenset({A1})))
    circle = Travelling(Days(7), Meetings((1, 8, 15)))
    found = played(Situation(corner, [steady(2), steady(3)], circle))
    assert found["B2"] == (0, 8, 10)


def test_who_is_away_leaves_the_piece_to_who_has_nothing_to_do() -> None:
    people = [steady(2, (2, 60)), steady(3)]
    found = played(Situation(ROW, people, POST, frozenset({A1}), (), {A1: 0}))
    assert found == {"B1": (0, 0, 2), "C1": (1, 9, 12)}


def test_after_a_turn_the_piece_goes_to_who_has_nothing_to_do() -> None:
    people = [steady(2), steady(3)]
    by_turns = Travelling(Days(7), turn=1)
    found = played(Situation(ROW, people, by_turns, frozenset({A1}), (), {A1: 0}))
    assert found == {"B1": (0, 0, 2), "C1": (1, 9, 12)}
    alone = played(Situation(ROW, people[:1], by_turns, frozenset({A1}), (), {A1: 0}))
    assert alone == {"B1": (0, 0, 2), "C1": (0, 2, 4)}


def test_several_may_share_a_travelling_piece() -> None:
    strip = plan(Layout(2, 8, 20))
    alone, shared = (
        forecast(Situation(strip, [steady(2)] * 2, Travelling(Days(1), at_once=most)), 1, 1)
        for most in (1, 2)
    )
    assert alone.within(0.5) == 32
    assert 16 < shared.within(0.5) < 24


def test_who_is_at_work_on_a_shared_piece_keeps_it_in_hand() -> None:
    people = [steady(10), steady(2, (2, 99)), steady(3)]
    shared = Travelling(Days(7), at_once=2)
    holders = {A1: 0, B1: 1}
    planned = plan(Layout(4, 2, 20))
    found = played(Situation(planned, people, shared, frozenset({A1, B1}), (), holders))
    assert found["A2"] == (0, 0, 10)
    assert found["C1"] == (1, 0, 2)
    assert found["D1"] == (2, 9, 12)  # takes the place of the one who left
    assert found["B2"] == (0, 10, 20)


def test_a_piece_is_one_in_hand_however_often_it_is_worked_on() -> None:
    fabrics = Fabrics(Prepared(Situation(plan(Layout(2, 2, 20)), [steady(2), steady(1)], POST)))
    for knitter in (0, 0, 1, 1):
        fabrics.begin([0], knitter, idle=())
    assert fabrics.holding == [0, 1]


@pytest.mark.parametrize(
    ("known", "now", "found"),
    [((3.0, 10.0), -1, 3), ((3.0, 10.0), 3, 10), ((3.0, 5.0, 13.0), 13, 18), ((4.0,), 4, 32)],
)
def test_meetings_go_on_as_they_did(known: tuple[float, ...], now: float, found: float) -> None:
    assert Meetings(known).after(now) == found


@pytest.mark.parametrize(
    ("mode", "in_hand"),
    [(Together(0), ()), (Together(), [InHand(A1, 0)]), (Together(), [InHand(C1, 0)])],
)
def test_what_cannot_be_is_refused(mode: Together, in_hand: list[InHand]) -> None:
    with pytest.raises(ValueError):
        Situation(ROW, [steady(1)], mode, frozenset({A1}), in_hand)


def test_without_knitters_it_is_never_finished() -> None:
    told = forecast(Situation(ROW, [], Together()), times=3, seed=1)
    assert told.never is Never.NO_KNITTERS
    assert (told.within(0.5), told.kept(1000), told.held_back) == (inf, 0, ())
    assert [band.high for band in told.progress([0, 100])] == [0, 0]
    assert forecast(Situation(ROW, [], Together()).with_volunteer(), 3, 1).never is None


def test_with_everybody_away_for_good_it_is_never_finished() -> None:
    told = forecast(Situation(ROW, [steady(1, (1.5, inf))], Together()), times=3, seed=1)
    assert told.never is Never.ALL_AWAY
    assert told.progress([5])[0].middle == 1
    corner = plan(Layout(2, 2, 20, missing=frozenset({A1})))
    meeting = Travelling(Days(7), Meetings((8,)))
    people = [steady(2), steady(3, (2, inf))]
    (run,) = runs_of(Situation(corner, people, meeting), 1, 1)
    assert [str(square.place) for square in run.knitted()] == ["B1"]


def test_a_finished_blanket_is_finished_today() -> None:
    told = forecast(Situation(ROW, [], Together(), frozenset(ROW.places)), times=3, seed=1)
    assert (told.within(0.9), told.never, told.held_back) == (0, None, ())


def test_progress_counts_what_is_finished() -> None:
    told = forecast(Situation(ROW, [steady(2)], Together(), frozenset({A1})), times=3, seed=1)
    assert [(band.low, band.middle, band.high) for band in told.progress([0, 1.9, 2, 4])] == [
        (1, 1, 1),
        (1, 1, 1),
        (2, 2, 2),
        (3, 3, 3),
    ]


def test_progress_is_a_band_with_the_middle_inside() -> None:
    uncertain = Situation(plan(Layout(5, 5, 20)), [Knitter(Days(3, 0.6, 0.3))] * 2, Together())
    told = forecast(uncertain, times=200, seed=1)
    bands = told.progress(range(0, 80, 4))
    assert all(band.low <= band.middle <= band.high for band in bands)
    assert [band.middle for band in bands] == sorted(band.middle for band in bands)
    assert any(band.low < band.middle < band.high for band in bands)
    day = told.within(0.9)
    assert told.progress([day])[0].low == 25
    assert told.kept(day) == pytest.approx(0.9)


def test_only_the_order_holds_up_a_chain_with_enough_people() -> None:
    told = forecast(Situation(ROW, [steady(2)] * 2, Together()), 1, 1)
    assert causes(told) == {Blame(Cause.ORDER): 1}


def test_too_few_people() -> None:
    told = forecast(Situation(cut(4, 1, 1, 2, 3), [steady(2)], Together()), 1, 1)
    assert causes(told) == {Blame(Cause.ORDER): 0.25, Blame(Cause.PEOPLE): 0.75}
    more = forecast(told.situation.with_volunteer(), 1, 1)
    assert (told.within(0.5), more.within(0.5)) == (8, 4)


def test_too_few_people_where_pieces_travel() -> None:
    told = forecast(Situation(cut(4, 1, 1, 2, 3), [steady(2)], POST), 1, 1)
    assert causes(told) == {Blame(Cause.ORDER): 0.25, Blame(Cause.PEOPLE): 0.75}


def test_a_piece_in_other_hands() -> None:
    told = forecast(Situation(plan(Layout(2, 2, 20)), [steady(2)] * 2, POST), 1, 1)
    # A1, then B1 and A2 in the same hands, then B2: only A2 could have been begun sooner.
    assert causes(told) == {Blame(Cause.ORDER): 0.75, Blame(Cause.PIECE, piece=A1): 0.25}
    more = forecast(told.situation.with_volunteer(), 1, 1)
    assert more.within(0.5) == told.within(0.5) == 8


def test_of_what_ends_at_the_same_moment_the_cause_is_what_was_waited_for() -> None:
    """Two panels, three people, room for two at each: in days 2, 4, … three squares end at once.

    E3 follows E2. That could have been begun at 6, but all three had something else; one of them
    C3, which could have been begun at 4, but two were at work on its panel.
    """
    told = forecast(Situation(cut(5, 3, 2), [steady(2)] * 3, Together(2)), 1, 1)
    assert causes(told) == {
        Blame(Cause.ORDER): 0.666667,
        Blame(Cause.PEOPLE): 0.166667,
        Blame(Cause.PIECE, piece=C1): 0.166667,
    }


def test_a_hand_over_and_a_meeting() -> None:
    corner = plan(Layout(2, 2, 20, missing=frozenset({A1})))
    people = [steady(2)] * 2
    told = forecast(Situation(corner, people, POST), 1, 1)
    assert causes(told) == {Blame(Cause.ORDER): 0.363636, Blame(Cause.HAND_OVER): 0.636364}
    meeting = Travelling(Days(7), Meetings((8,)))
    told = forecast(Situation(corner, people, meeting), 1, 1)
    assert causes(told) == {Blame(Cause.ORDER): 0.4, Blame(Cause.HAND_OVER): 0.6}


def test_a_person_who_is_slow_or_away() -> None:
    slow = [steady(2), steady(2), steady(8)]
    told = forecast(Situation(cut(3, 1, 1, 2), slow, Together()), 1, 1)
    assert causes(told) == {Blame(Cause.ORDER): 0.25, Blame(Cause.PERSON, knitter=2): 0.75}
    told = forecast(Situation(ROW, [steady(2, (4, 10))], Together()), 1, 1)
    assert causes(told) == {Blame(Cause.ORDER): 0.5, Blame(Cause.PERSON, knitter=0): 0.5}
    told = forecast(Situation(ROW, [steady(2, (1, 7))], Together()), 1, 1)
    assert causes(told) == {Blame(Cause.ORDER): 0.5, Blame(Cause.PERSON, knitter=0): 0.5}


def test_luck_stays_with_a_place() -> None:
    """The same seed: another knitter, seam or finished square changes nobody's luck."""
    square = plan(Layout(2, 2, 20))
    one = [Knitter(Days(3, 0.5, 0.2))]
    alone, joined, later, apart = (
        played(situation)
        for situation in (
            Situation(square, one, Together(1)),
            Situation(square, one, Together(1)).with_volunteer(),
            Situation(square, one, Together(1), frozenset({A1})),
            Situation(cut(2, 2, 1), one, Together(1)),
        )
    )
    days = {place: ended - since for place, (_, since, ended) in alone.items()}
    for other in (joined, later, apart):
        for place, (who, since, ended) in other.items():
            if who == 0:
                assert ended - since == pytest.approx(days[place])


def test_doubt_about_a_pace_spreads_the_date() -> None:
    def spread(pace: Days) -> float:
        told = forecast(Situation(plan(Layout(6, 6, 20)), [Knitter(pace)], Together()), 1000, 1)
        return told.within(0.9) / told.within(0.5)

    # Luck evens out over 36 squares; what is not known of the pace does not: exp(1.2816 × 0.4)
    assert spread(Days(3, spread=0.4)) < 1.15
    assert spread(Days(3, doubt=0.4)) == pytest.approx(1.67, rel=0.1)


@often
@given(st.lists(st.floats(0, 1e6), min_size=1), st.integers(1, 99))
def test_a_quantile_is_the_first_value_with_that_share_below(
    values: list[float], percent: int
) -> None:
    ordered = sorted(values)
    found = quantile(ordered, percent / 100)
    assert sum(value <= found for value in values) * 100 >= percent * len(values)
    assert sum(value < found for value in values) * 100 < percent * len(values)


@often
@given(st.lists(st.floats(0, 1e6), min_size=2), st.integers(1, 99))
def test_a_quantile_lies_between_the_values_around_that_of_statistics(
    values: list[float], percent: int
) -> None:
    ordered = sorted(values)
    outside = quantiles(values, n=100, method="inclusive")[percent - 1]
    found = quantile(ordered, percent / 100)
    below, above = bisect_left(ordered, found), bisect_right(ordered, found)
    assert ordered[max(below - 1, 0)] <= outside + 1e-6
    assert outside - 1e-6 <= ordered[min(above, len(ordered) - 1)]
