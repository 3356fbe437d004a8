"""Drift of one knitter's squares, against a published regression and against chance."""

from datetime import date, timedelta
from math import sqrt
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.gauge.drift import Drift, Made, drift
from tests.craft.situations import often

FIRST = date(2026, 11, 2)
# Anscombe, Graphs in statistical analysis, The American Statistician 27 (1973), first set, by x:
# y = 3.00 + 0.500 x, standard error 0.118, t = 4.24
ANSCOMBE = [4.26, 5.68, 7.24, 4.82, 6.95, 8.81, 8.04, 8.33, 10.84, 7.58, 9.96]
some_sides = st.lists(st.integers(16, 40).map(lambda halves: halves / 2), min_size=1, max_size=30)


def made(sides: list[float]) -> list[Made]:
    return [Made(FIRST + timedelta(days=day), side) for day, side in enumerate(sides)]


def test_a_published_regression() -> None:
    found = drift(made(ANSCOMBE))
    assert found.squares == 11
    assert found.mean == pytest.approx(7.501, abs=0.001)
    assert found.spread == pytest.approx(sqrt(4.127), abs=0.001)
    assert found.trend == pytest.approx(0.500, abs=0.001)
    assert found.shown
    assert found.change == pytest.approx(10 * 0.500 / 7.501, abs=0.001)


def test_a_trend_is_shown_from_its_critical_value_on() -> None:
    # t with 9 degrees of freedom and 0.975 is 2.262 (Abramowitz and Stegun, table 26.10); a trend
    # taken away or added leaves the standard error, 0.1179, as it is
    for trend, shown in ((2.25, False), (2.28, True), (-2.25, False), (-2.28, True)):
        change = trend * 0.1179 - 0.5001
        sides = [side + change * index for index, side in enumerate(ANSCOMBE)]
        assert drift(made(sides)).shown is shown


def test_squares_are_taken_in_the_order_of_their_days() -> None:
    squares = made([10, 10.5, 11, 11.5, 12])
    found = drift([squares[3], squares[0], squares[4], squares[2], squares[1]])
    assert found.trend == pytest.approx(0.5)
    assert found.shown
    assert found.change == pytest.approx(2 / 11)


def test_squares_that_shrink() -> None:
    found = drift(made([12, 11.5, 11, 10.5, 10]))
    assert found.shown
    assert found.change == pytest.approx(-2 / 11)


def test_squares_that_vary_and_do_not_drift() -> None:
    found = drift(made([10, 11, 10, 9, 10, 11, 10, 9]))
    assert not found.shown


def test_what_the_tape_hides_is_no_drift() -> None:
    # a quarter of a centimetre over five squares, in steps of half a centimetre
    sides = [10.0, 10.06, 10.12, 10.19, 10.25]
    assert not drift(made(sides)).shown
    assert drift(made(sides), tape=0.01).shown


def test_too_few_to_tell() -> None:
    assert drift(made([10])) == Drift(1, 10, None, None, False, None, 6)
    two = drift(made([10, 12]))
    assert (two.mean, two.trend, two.shown) == (11, None, False)
    assert two.spread == pytest.approx(sqrt(2))


def test_what_so_many_squares_could_show() -> None:
    """F9 of the review: three squares and a tape of half a centimetre never show a drift."""
    three = drift(made([10, 10, 10]))
    assert three.least is not None
    # t with 1 degree of freedom, 12.706; 0.5 ÷ √12 ÷ √2, over two steps
    assert three.least == pytest.approx(12.706 * 0.5 / sqrt(12) / sqrt(2) * 2 / 10, rel=1e-3)
    steps = [10 * (1 + three.least * index / 2) for index in range(3)]
    assert not drift(made([*steps[:2], steps[2] - 0.02])).shown


@often
@given(st.integers(3, 40), st.floats(5, 40), st.sampled_from([0.1, 0.5]))
def test_the_least_drift_that_is_shown(count: int, mean: float, tape: float) -> None:
    alike = drift(made([mean] * count), tape)
    assert alike.least is not None
    for factor, shown in ((0.99, False), (1.01, True)):
        change = alike.least * mean * factor
        sides = [mean + change * index / (count - 1) for index in range(count)]
        assert drift(made(sides), tape).shown is shown
    assert (alike.least <= 0.05) == (count >= alike.needed)


def test_chance_alone_is_shown_once_in_twenty_times() -> None:
    random = Random(6)
    shown = sum(
        drift(made([random.gauss(10, 0.5) for _ in range(8)]), tape=0).shown for _ in range(800)
    )
    assert 0.035 <= shown / 800 <= 0.065


@often
@given(some_sides, st.floats(0.2, 5))
def test_scale_and_direction(sides: list[float], factor: float) -> None:
    found = drift(made(sides), tape=0.5)
    scaled = drift(made([side * factor for side in sides]), tape=0.5 * factor)
    back = drift(made(sides[::-1]), tape=0.5)
    assert scaled.change == pytest.approx(found.change, abs=1e-9)
    assert scaled.mean == pytest.approx(found.mean * factor)
    assert back.change == pytest.approx(-found.change, abs=1e-9)
    assert back.shown == scaled.shown == found.shown
