"""What is said of a gauge that was measured, of drift, and of who knits alike."""

from datetime import date, timedelta

import pytest

from drives.craft.gauge.alike import alike_knitters
from drives.craft.gauge.drift import Drift, Made, drift
from drives.craft.gauge.needles import needle
from drives.craft.gauge.tension import Compared, Gauge
from drives.words.gauge import (
    advice_words,
    crooked_words,
    drift_words,
    found_words,
    knitters_alike,
    needle_words,
    stays_words,
)


def drifting(*sides: float) -> Drift:
    """Squares with these sides, one a day."""
    first = date(2026, 3, 1)
    return drift(Made(first + timedelta(days=day), side) for day, side in enumerate(sides))


@pytest.mark.parametrize(
    ("mm", "words"),
    [
        (4, "4 mm (US 6, old UK 8)"),
        (2, "2 mm (US 0, old UK 14)"),
        (8, "8 mm (US 11, old UK 0)"),
        (3, "3 mm (old UK 11)"),
        (3.5, "3.5 mm (US 4)"),
        (2.25, "2.25 mm (US 1, old UK 13)"),
        (4.25, "4.25 mm"),  # in no table: no size is made up
    ],
)
def test_a_needle_in_words(mm: float, words: str) -> None:
    assert needle_words(needle(mm)) == words


def test_an_even_hand() -> None:
    even = Compared(20, 20.5)
    assert found_words(even) == "Within 5\u00a0% this is the planned gauge."
    assert stays_words(even) == "Such squares join flat."
    assert advice_words(even, 4) == advice_words(even, None) == "Keep this needle."


def test_a_tight_and_a_loose_hand() -> None:
    tight, loose = Compared(20, 22), Compared(20, 18)
    assert found_words(tight) == "Knitted so tight, squares come out 9\u00a0% smaller than planned."
    assert found_words(loose) == "Knitted so loose, squares come out 11\u00a0% larger than planned."
    assert "puckers" in stays_words(tight)
    assert "ripple" in stays_words(loose)
    assert advice_words(tight, 4) == "Try 4.5 mm (US 7, old UK 7) instead of 4 mm (US 6, old UK 8)."
    assert advice_words(loose, 4) == "Try 3.5 mm (US 4) instead of 4 mm (US 6, old UK 8)."
    assert advice_words(tight, None) == "Try a larger needle."
    assert advice_words(loose, None) == "Try a smaller needle."


def test_where_a_needle_does_not_help() -> None:
    assert (
        advice_words(Compared(20, 22), 12)
        == "No usual needle is larger than 12 mm (US 17): another yarn fits this plan."
    )
    assert (
        advice_words(Compared(20, 18), 2)
        == "No usual needle is smaller than 2 mm (US 0, old UK 14): another yarn fits this plan."
    )
    assert advice_words(Compared(20, 21.2), 2.25) == (
        "No usual needle comes nearer than 2.25 mm (US 1, old UK 13): knit a little looser."
    )
    assert advice_words(Compared(20, 18.9), 2.75) == (
        "No usual needle comes nearer than 2.75 mm (US 2, old UK 12): knit a little tighter."
    )
    assert advice_words(Compared(20, 12), 4) == (
        "So much is seldom the hand alone: is it the planned yarn, counted aright?"
        " Try 2.25 mm (US 1, old UK 13) instead of 4 mm (US 6, old UK 8)."
    )


def test_ridges_that_are_no_stitch_tall() -> None:
    for ridges, words in (
        (25, "come out 20\u00a0% shorter than the foundation"),
        (16, "come out 25\u00a0% longer than the foundation"),
        (40, "two rows make one ridge"),
    ):
        found = Gauge(20, ridges).crooked
        assert found
        assert words in crooked_words(found)


@pytest.mark.parametrize(
    ("sides", "words"),
    [
        (
            [10],
            "One square is measured. A drift of 5\u00a0% takes at least 6 squares to show.",
        ),
        (
            [10, 12],
            "2 squares differ by about 13\u00a0%."
            " A drift of 5\u00a0% takes at least 6 squares to show.",
        ),
        (
            [10, 10.5, 11, 11.5, 12],
            "The squares grow: the last of 5 is about 18\u00a0% larger than the first.",
        ),
        (
            [12, 11.5, 11, 10.5, 10],
            "The squares shrink: the last of 5 is about 18\u00a0% smaller than the first.",
        ),
        (
            [10, 11, 10, 9, 10, 11, 10, 9],
            "8 squares differ by about 8\u00a0% and show no drift."
            " One of less than 21\u00a0% would not show yet.",
        ),
    ],
)
def test_whether_squares_drift(sides: list[float], words: str) -> None:
    assert drift_words(drifting(*sides)) == words


def test_who_knits_alike() -> None:
    two, one = alike_knitters({1: 20, 2: 20.6, 3: 24})
    assert knitters_alike(two) == (
        "These 2 knit alike: their gauges are 3\u00a0% apart at most, so their squares join flat."
        " Give them the same panel."
    )
    assert knitters_alike(one) == "Nobody else knits like this member."
