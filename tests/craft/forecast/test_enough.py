"""How many knitters suffice."""

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.forecast.enough import suffice, with_knitters
from drives.craft.forecast.forecast import forecast
from drives.craft.forecast.situation import InHand, Situation, Together
from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import plan
from drives.craft.places import Place
from tests.craft.situations import cut, steady


@given(st.integers(1, 30), st.integers(0, 29), st.integers(0, 40))
def test_the_fewest_are_found_in_few_tries(least: int, more: int, enough: int) -> None:
    tried: list[int] = []

    def kept(count: int) -> float:
        tried.append(count)
        return 0.95 if count >= enough else 0.3

    found = suffice(kept, 0.9, least, least + more)
    assert found == (max(least, enough) if enough <= least + more else None)
    assert len(tried) <= 10


def test_where_more_hardly_help_chance_does_not_decide_between_few_and_many() -> None:
    luck = {4: 0.49, 15: 0.48, 30: 0.49}
    assert suffice(lambda count: luck.get(count, 0.51), 0.5, 1, 60) == 1
    assert suffice(lambda count: 0.3 if count < 3 else luck.get(count, 0.51), 0.5, 1, 60) == 3


def test_eight_strips_of_eight_squares_in_time() -> None:
    """Each strip takes eight times four days; in 64 days one knitter makes two of them."""
    situation = Situation(cut(8, 8, *range(1, 8)), [steady(4)] * 3, Together(1))

    def kept(count: int) -> float:
        return forecast(with_knitters(situation, count, 1), 2, 1).kept(64)

    assert suffice(kept, 0.9, 1, 20) == 4
    assert suffice(kept, 0.9, 1, 3) is None


def test_who_has_a_square_stays_and_the_others_go_one_by_one() -> None:
    people = [steady(days) for days in (1, 2, 3, 4, 5)]
    in_hand = [InHand(Place.parse("A1"), 3)]
    situation = Situation(plan(Layout(3, 3, 20)), people, Together(), in_hand=in_hand, holders={})
    before = {each.pace.median for each in people}
    for count in (5, 4, 3, 2, 1, 0):
        made = with_knitters(situation, count, 7)
        stay = {each.pace.median for each in made.knitters}
        assert len(made.knitters) == max(count, 1)
        assert stay <= before
        assert made.knitters[made.in_hand[0].knitter].pace.median == 4
        before = stay


def test_who_comes_is_as_the_one_in_the_middle() -> None:
    people = [steady(2, (0.0, inf)), steady(9), steady(4)]
    situation = Situation(plan(Layout(2, 2, 20)), people, Together())
    made = with_knitters(situation, 5, 1)
    assert list(made.knitters) == [*people, steady(4), steady(4)]


@pytest.mark.parametrize("count", [1, 3])
def test_somebody_comes_where_nobody_knits(count: int) -> None:
    made = with_knitters(Situation(plan(Layout(2, 2, 20)), [], Together()), count, 1)
    assert len(made.knitters) == count
