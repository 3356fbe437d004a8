"""Days of the week: what is learned of them, and calendar days as days of knitting."""

from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.forecast.week import ASSUMED, Week, week_of
from tests.craft.situations import often

some_rates = st.lists(st.floats(0.05, 5), min_size=7, max_size=7)


def some_week(rates: list[float], start: float) -> Week:
    return Week(tuple(7 * rate / sum(rates) for rate in rates), start)


@often
@given(some_rates, st.floats(0, 0.99), st.floats(-400, 4000))
def test_back_and_forth(rates: list[float], start: float, day: float) -> None:
    week = some_week(rates, start)
    assert week.day(week.knitting(day)) == pytest.approx(day, abs=1e-6)
    assert week.knitting(day + 7) == pytest.approx(week.knitting(day) + 7)
    assert week.knitting(day + 0.1) > week.knitting(day)


def test_knitting_begins_at_the_start() -> None:
    week = some_week([1, 2, 3, 4, 5, 6, 7], 0.4)
    assert week.knitting(0.4) == pytest.approx(0)
    assert week.day(0) == pytest.approx(0.4)
    assert week.knitting(inf) == week.day(inf) == inf


def test_a_week_without_events_is_even_and_one_of_saturdays_is_not() -> None:
    assert week_of([]).rates == pytest.approx((1,) * 7)
    rates = week_of([-1.5, -8.9, -15.1, -22.5], assumed=ASSUMED).rates
    assert sum(rates) == pytest.approx(7)
    # Four squares in 24 days, of which four were of that weekday, three of the one before last.
    even = 4 / 24
    on, off = (4 + ASSUMED) / (4 * even + ASSUMED), ASSUMED / (3 * even + ASSUMED)
    assert rates[5] / rates[1] == pytest.approx(on / off)
    assert rates[5] > 4 * rates[1]


def test_a_weekday_that_has_not_come_yet_is_like_the_others() -> None:
    """Two squares a day in three days: the other weekdays are not days of rest."""
    assert week_of([-1.9, -1.5, -0.9, -0.5, 0.1, 0.5]).rates == pytest.approx((1,) * 7)


def test_on_a_day_on_which_nobody_knits_nothing_gets_done() -> None:
    week = Week((0.01, 0.01, 0.01, 0.01, 0.01, 3.475, 3.475))
    assert week.knitting(5) == pytest.approx(0.05)
    assert week.day(1) == pytest.approx(5 + 0.95 / 3.475)
