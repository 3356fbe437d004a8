"""Hand-overs: from a stated guess to what was seen."""

from math import exp, log, sqrt
from random import Random
from statistics import fmean, pstdev

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.forecast.pace import HAND_OVER, Days, Prior, hand_over
from tests.craft.situations import often

some_days = st.lists(st.floats(0.5, 60), max_size=12)


def test_with_nothing_seen_it_is_the_guess() -> None:
    guess = Days(HAND_OVER.median, HAND_OVER.spread, HAND_OVER.spread / sqrt(HAND_OVER.weight))
    assert hand_over(()) == pytest.approx(guess)


def test_with_much_seen_it_is_what_was_seen() -> None:
    random = Random(1)
    days = [random.lognormvariate(log(3), 0.4) for _ in range(5000)]
    logs = [log(each) for each in days]
    found = hand_over(days)
    assert found.median == pytest.approx(exp(fmean(logs)), rel=0.001)
    assert found.spread == pytest.approx(pstdev(logs), rel=0.01)
    assert found.doubt < 0.01


def test_one_hand_over_moves_the_guess_by_its_weight() -> None:
    # Two guesses of 4 and one of 32 days: the geometric mean of 4, 4 and 32 is 8.
    found = hand_over([32], Prior(4, 0.5, weight=2))
    assert found.median == pytest.approx(8)
    # Squares of the logarithm's deviations: 2 × 0.25, and 2/3 × (log 8)² for the surprise.
    assert found.spread == pytest.approx(sqrt((2 * 0.25 + 2 / 3 * log(8) ** 2) / 3))
    assert found.doubt == pytest.approx(found.spread / sqrt(3))


@often
@given(some_days)
def test_it_lies_between_guess_and_what_was_seen(days: list[float]) -> None:
    found = hand_over(days).median
    seen = exp(fmean(map(log, days))) if days else HAND_OVER.median
    low, high = sorted((HAND_OVER.median, seen))
    assert low - 1e-9 <= found <= high + 1e-9


@often
@given(some_days, st.integers(1, 9))
def test_the_same_update_in_two_steps(days: list[float], cut: int) -> None:
    """Conjugate: what was learned is the prior of what comes next."""
    first = hand_over(days[:cut])
    weight = HAND_OVER.weight + len(days[:cut])
    then = hand_over(days[cut:], Prior(first.median, first.spread, weight))
    assert then == pytest.approx(hand_over(days))


def test_what_was_noted_when_it_was_over_counts_as_half_a_day() -> None:
    assert hand_over([0, 0.1]) == hand_over([0.5, 0.5])
    assert hand_over([0]).median < HAND_OVER.median


def test_a_pace_is_for_a_steady_hand_unless_it_says_otherwise() -> None:
    assert Days(3) == (3, 0, 0)
