"""Knitting needles: millimetres, and the US and old UK sizes that some of them have."""

from bisect import bisect_left, bisect_right
from typing import NamedTuple


class Needle(NamedTuple):
    """A needle ``mm`` thick; ``us`` and ``uk`` (the old size) are None where it has none.

    No size is made up.
    """

    mm: float
    us: str | None = None
    uk: str | None = None


# knitsplease.co.uk/knitting-needle-conversion-chart
NEEDLES = (
    Needle(2, "0", "14"),
    Needle(2.25, "1", "13"),
    Needle(2.75, "2", "12"),
    Needle(3, None, "11"),
    Needle(3.25, "3", "10"),
    Needle(3.5, "4", None),
    Needle(3.75, "5", "9"),
    Needle(4, "6", "8"),
    Needle(4.5, "7", "7"),
    Needle(5, "8", "6"),
    Needle(5.5, "9", "5"),
    Needle(6, "10", "4"),
    Needle(6.5, "10½", "3"),
    Needle(7, None, "2"),
    Needle(8, "11", "0"),
    Needle(9, "13", "00"),
    Needle(10, "15", "000"),
    Needle(12, "17", None),
)
_MM = [needle.mm for needle in NEEDLES]


def needle(mm: float) -> Needle:
    """The needle of the table that is ``mm`` thick, else one without other sizes."""
    return next((each for each in NEEDLES if each.mm == mm), Needle(mm))


def nearest_needle(mm: float) -> Needle:
    """The needle of the table nearest to ``mm``; of two the thinner one."""
    return min(NEEDLES, key=lambda each: abs(each.mm - mm))


def next_smaller(mm: float) -> Needle | None:
    """The next needle of the table that is thinner than ``mm``; None below the thinnest."""
    index = bisect_left(_MM, mm)
    return NEEDLES[index - 1] if index else None


def next_larger(mm: float) -> Needle | None:
    """The next needle of the table that is thicker than ``mm``; None above the thickest."""
    index = bisect_right(_MM, mm)
    return NEEDLES[index] if index < len(NEEDLES) else None
