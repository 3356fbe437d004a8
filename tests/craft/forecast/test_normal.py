"""The tail of the normal distribution, against integrals and where plain floats are 0."""

from math import exp, inf, isfinite, log, sqrt
from statistics import NormalDist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.forecast.forecast import forecast
from drives.craft.forecast.normal import above, beyond
from drives.craft.forecast.pace import Days
from drives.craft.forecast.situation import InHand, Knitter, Situation, Together
from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import plan
from drives.craft.places import Place
from tests.craft.situations import often

luck = st.floats(-3.7, 3.7)


@pytest.mark.parametrize("value", [-2.0, 0.0, 1.5, 4.0])
def test_above_is_what_the_distribution_leaves(value: float) -> None:
    assert above(value) == pytest.approx(1 - NormalDist().cdf(value))


@pytest.mark.parametrize("value", [8.0, 12.0, 20.0, 36.0])
def test_far_out_it_lies_between_its_bounds(value: float) -> None:
    """R. D. Gordon, Values of Mills' ratio …, Annals of Mathematical Statistics 12 (1941)."""
    density = NormalDist().pdf(value)
    assert density * value / (value * value + 1) < above(value) < density / value


def test_without_a_bound_it_is_the_luck_itself() -> None:
    for value in (-3.0, -0.5, 0.0, 2.0):
        assert beyond(-inf, value) == pytest.approx(value)


@often
@given(st.floats(-40, 1e6), luck)
def test_it_is_more_than_the_least_and_a_number(least: float, value: float) -> None:
    found = beyond(least, value)
    assert least * (1 - 1e-9) - 1e-9 <= found < inf
    assert beyond(least, value + 0.1) >= found  # more luck, more days


@pytest.mark.parametrize("least", [29.999, 30.0, 35.0])
def test_both_ways_meet(least: float) -> None:
    """Given a value far out, what it exceeds that by is exponential with about that rate."""
    for value in (-1.0, 0.0, 1.0):
        excess = beyond(least, value) - least
        assert excess == pytest.approx(-log(above(value)) / least, rel=0.01)


@often
@given(
    st.floats(0.01, 50), st.floats(0.001, 2), st.floats(0, 0.8), st.floats(0.001, 3000),
)  # fmt: skip
def test_however_long_it_is_held_there_is_a_day(
    median: float, spread: float, doubt: float, held: float
) -> None:
    place = Place(1, 1)
    hands = [Knitter(Days(median, spread, doubt))]
    one = Situation(
        plan(Layout(1, 1, 20)), hands, Together(), in_hand=[InHand(place, 0, begun=-held)]
    )
    told = forecast(one, times=40, seed=1)
    assert isfinite(told.within(1))
    assert told.within(0.5) <= 100 * max(held, median * exp(spread + doubt))


def test_a_steady_knitter_who_holds_a_square_long_gives_no_date_years_ahead() -> None:
    """Twelve squares of two days each, and one that is held for 25 days, and for 35."""
    spread = 0.6 * sqrt(2 / 14)
    for held in (25, 35):
        square = plan(Layout(2, 2, 20))
        hands = [Knitter(Days(2, spread, spread / sqrt(14)))]
        situation = Situation(
            square, hands, Together(), in_hand=[InHand(Place(1, 1), 0, begun=-held)]
        )
        assert forecast(situation, times=200, seed=1).within(0.9) < 4 * held
