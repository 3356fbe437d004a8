"""Needles and their three sizes. knitsplease.co.uk/knitting-needle-conversion-chart."""

from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from drives.craft.gauge.needles import (
    NEEDLES,
    Needle,
    nearest_needle,
    needle,
    next_larger,
    next_smaller,
)
from tests.craft.situations import often

# As published: mm = US = old UK
TABLE = (
    "2 = 0 = 14 · 2.25 = 1 = 13 · 2.75 = 2 = 12 · 3 = – = 11 · 3.25 = 3 = 10 · 3.5 = 4 = – · "
    "3.75 = 5 = 9 · 4 = 6 = 8 · 4.5 = 7 = 7 · 5 = 8 = 6 · 5.5 = 9 = 5 · 6 = 10 = 4 · "
    "6.5 = 10½ = 3 · 7 = – = 2 · 8 = 11 = 0 · 9 = 13 = 00 · 10 = 15 = 000 · 12 = 17 = –"
)
thickness = st.floats(0.5, 20)


def test_the_published_table() -> None:
    rows = [
        f"{each.mm:g} = {'–' if each.us is None else each.us} = "
        f"{'–' if each.uk is None else each.uk}"
        for each in NEEDLES
    ]
    assert " · ".join(rows) == TABLE


def test_no_size_is_made_up() -> None:
    assert needle(3) == Needle(3, None, "11")
    assert needle(4.25) == Needle(4.25)


def test_the_nearest_needle() -> None:
    assert nearest_needle(4.2) == Needle(4, "6", "8")
    assert nearest_needle(4.3).mm == 4.5
    assert nearest_needle(4.25).mm == 4  # of two the thinner one
    assert nearest_needle(0.5).mm == 2
    assert nearest_needle(40).mm == 12


def test_the_needles_beside_one() -> None:
    assert next_larger(4) == needle(4.5)
    assert next_smaller(4) == needle(3.75)
    assert next_larger(4.2) == needle(4.5)
    assert next_smaller(4.2) == needle(4)
    assert next_smaller(2) is None
    assert next_larger(12) is None
    assert next_larger(1) == needle(2)
    assert next_smaller(15) == needle(12)


@often
@given(thickness)
def test_nothing_of_the_table_lies_between_a_thickness_and_its_neighbours(mm: float) -> None:
    smaller, larger, near = next_smaller(mm), next_larger(mm), nearest_needle(mm)
    low = smaller.mm if smaller else 0
    high = larger.mm if larger else float("inf")
    assert low < mm < high
    assert not [each for each in NEEDLES if low < each.mm < high and each.mm != mm]
    assert near.mm in (low, mm, high)


def test_down_and_up_again() -> None:
    for thin, thick in pairwise(NEEDLES):
        assert next_larger(thin.mm) == thick
        assert next_smaller(thick.mm) == thin
        assert nearest_needle(thin.mm) == needle(thin.mm) == thin
