"""Lengths and gauge as circles tell them."""

from decimal import Decimal

import pytest

from drives.craft.numbers.ranges import Range
from drives.measures import (
    between,
    from_gauge,
    length,
    miss,
    to_cm,
    to_gauge,
    to_grams,
    to_metres,
    weight,
    yarn_length,
)


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


@pytest.mark.parametrize("units", ["in", "cm"])
def test_every_gauge_comes_back_as_it_was_told(units: str) -> None:
    """F9 of the review: 54 to 4 inches came back as 53.9, 22.2 as 22.3."""
    told = [Decimal(tenths) / 10 for tenths in range(40, 601)]
    kept = [to_gauge(each, units) for each in told]
    assert [from_gauge(each, units) for each in kept] == told
    assert all(each == round(each, 2) for each in kept)  # as the row has it


@pytest.mark.parametrize(
    ("cm", "told"), [(0.4, "as wanted"), (-0.4, "as wanted"), (1.2, "1 cm more"), (-2, "2 cm less")]
)
def test_a_miss_is_told_in_the_direction_that_it_goes(cm: float, told: str) -> None:
    assert miss(cm, "cm") == told


@pytest.mark.parametrize(
    ("low", "high", "told"),
    [
        (1234, 1467, "1,200–1,500"),
        (99.2, 100.1, "99–110"),
        (0, 0.3, "0–1"),
        (7.9, 12.1, "7–13"),
        (1000, 1000, "1,000"),
        (21_987, 101_000, "21,000–110,000"),
    ],
)
def test_a_range_is_rounded_outwards(low: float, high: float, told: str) -> None:
    assert between(Range(low, high)) == told


# The international avoirdupois ounce and yard (agreement of 1959).
def test_ounces_and_yards() -> None:
    assert to_grams(2, "in") == pytest.approx(56.69904625)
    assert to_metres(100, "in") == pytest.approx(91.44)
    assert (to_grams(2, "cm"), to_metres(100, "cm")) == (2, 100)
    assert weight(Range(453.6, 907.1), "in") == "16–32 oz"
    assert yarn_length(Range(91.5, 182.8), "in") == "100–200 yards"
    assert weight(Range(450, 900), "cm") == "450–900 g"
    assert yarn_length(Range(450, 900), "cm") == "450–900 metres"
