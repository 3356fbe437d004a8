"""Lengths and gauge as circles tell them."""

from decimal import Decimal

import pytest

from drives.pages.measures import from_gauge, length, miss, to_cm, to_gauge


# The international inch is 2.54 cm (agreement of 1959).
@pytest.mark.parametrize(
    ("cm", "units", "told"),
    [
        (90.4, "cm", "90 cm"),
        (2.54, "in", "1 in"),
        (91.44, "in", "36 in"),
        (92.71, "in", "36.5 in"),
        (0, "in", "0 in"),
    ],
)
def test_lengths_are_whole_cm_or_half_inches(cm: float, units: str, told: str) -> None:
    assert length(cm, units) == told


def test_inches_become_cm() -> None:
    assert to_cm(36, "in") == pytest.approx(91.44)
    assert to_cm(36, "cm") == 36


@pytest.mark.parametrize("gauge", ["4", "18.5", "20", "33.3", "60"])
def test_a_gauge_told_in_inches_comes_back(gauge: str) -> None:
    there = to_gauge(Decimal(gauge), "in")
    assert abs(from_gauge(there, "in") - Decimal(gauge)) <= Decimal("0.1")
    assert to_gauge(Decimal(gauge), "cm") == Decimal(gauge)


@pytest.mark.parametrize(
    ("cm", "told"), [(0.4, "as wanted"), (-0.4, "as wanted"), (1.2, "1 cm more"), (-2, "2 cm less")]
)
def test_a_miss_is_told_in_the_direction_that_it_goes(cm: float, told: str) -> None:
    assert miss(cm, "cm") == told
