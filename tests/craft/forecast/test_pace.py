"""Learning a pace: from a stated guess to what a member's own squares say."""

from math import exp, log, sqrt
from random import Random
from statistics import fmean, pstdev

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.forecast.pace import (
    HAND_OVER,
    SQUARE,
    Days,
    Prior,
    circles_prior,
    hand_over,
    learned,
    pace,
)
from tests.craft.situations import often

some_days = st.lists(st.floats(0.5, 60), max_size=12)


def test_with_nothing_seen_it_is_the_guess() -> None:
    guess = Days(SQUARE.median, SQUARE.spread, SQUARE.spread / sqrt(SQUARE.weight))
    assert pace(()) == pytest.approx(guess)
    assert hand_over(()).median == pytest.approx(HAND_OVER.median)


def test_with_much_seen_it_is_what_was_seen() -> None:
    random = Random(1)
    days = [random.lognormvariate(log(3), 0.4) for _ in range(5000)]
    logs = [log(each) for each in days]
    found = pace(days)
    assert found.median == pytest.approx(exp(fmean(logs)), rel=0.001)
    assert found.spread == pytest.approx(pstdev(logs), rel=0.01)
    assert found.doubt < 0.01


def test_one_square_moves_the_guess_by_its_weight() -> None:
    # Two guesses of 4 and one square of 32 days: the geometric mean of 4, 4 and 32 is 8.
    found = learned([32], Prior(4, 0.5, weight=2))
    assert found.median == pytest.approx(8)
    # Squares of the logarithm's deviations: 2 × 0.25, and 2/3 × (log 8)² for the surprise.
    assert found.spread == pytest.approx(sqrt((2 * 0.25 + 2 / 3 * log(8) ** 2) / 3))
    assert found.doubt == pytest.approx(found.spread / sqrt(3))


@often
@given(some_days)
def test_the_pace_lies_between_guess_and_squares(days: list[float]) -> None:
    found = pace(days).median
    seen = exp(fmean(map(log, days))) if days else SQUARE.median
    low, high = sorted((SQUARE.median, seen))
    assert low - 1e-9 <= found <= high + 1e-9


@often
@given(some_days, st.integers(1, 9))
def test_the_same_update_in_two_steps(days: list[float], cut: int) -> None:
    """Conjugate: what was learned is the prior of what comes next."""
    first = learned(days[:cut], SQUARE)
    weight = SQUARE.weight + len(days[:cut])
    then = learned(days[cut:], Prior(first.median, first.spread, weight))
    assert then == pytest.approx(learned(days, SQUARE))


def test_a_square_noted_when_it_was_finished_counts_as_half_a_day() -> None:
    assert pace([0, 0.1]) == pace([0.5, 0.5])
    assert pace([0]).median < SQUARE.median


def test_somebody_new_is_expected_to_be_like_the_circle() -> None:
    assert circles_prior([]).median == pytest.approx(SQUARE.median)
    assert circles_prior([[], []]).median == pytest.approx(SQUARE.median)
    # Each member counts once, however much they have knitted.
    busy = circles_prior([[40.0] * 50, [10.0], []], Prior(5, 0.6, weight=2))
    assert busy.median == pytest.approx((5 * 5 * 40 * 10) ** (1 / 4))
    assert (busy.spread, busy.weight) == (0.6, 2)


def test_a_pace_is_for_a_steady_hand_unless_it_says_otherwise() -> None:
    assert Days(3) == (3, 0, 0)
