"""What is short of a colour, in grams and in balls."""

import pytest

from drives.craft.layout.border import border, ridges
from drives.craft.layout.layout import Layout, Mitre
from drives.craft.yarn.buying import Short, sewing, short
from drives.craft.yarn.enough import needed, weight, whether_enough
from drives.craft.yarn.rests_on import Evidence, RestsOn
from drives.craft.yarn.weighing import PerStitch

SQUARES = (841, 841, 3281)


@pytest.mark.parametrize("certainty", [0.5, 0.8, 0.9, 0.95])
@pytest.mark.parametrize("degrees", [None, 1, 4, 30])
def test_so_much_suffices_with_that_certainty(certainty: float, degrees: int | None) -> None:
    known = PerStitch(0.01, 0.0008, 0.0003, degrees, RestsOn(Evidence.SQUARES, 3))
    grams = needed(known, SQUARES, certainty)
    assert whether_enough(known, SQUARES, grams).probability == pytest.approx(certainty)


# By hand: two squares of 1000 stitches at 0.01 g are 20 g; the spread is 0.001 × √2 × 1000 =
# 1.414 g, the doubt 0.0005 × 2000 = 1 g, together 1.732 g. 90 % of a normal value lie below 1.2816
# sigma: 22.22 g, and with 3 % for tails 22.886 g. From 5 to 95 % are 1.6449 sigma each way.
def test_by_hand() -> None:
    known = PerStitch(0.01, 0.001, 0.0005, None, RestsOn(Evidence.SQUARES, 3))
    assert needed(known, [1000, 1000], 0.9) == pytest.approx(22.886, abs=0.002)
    assert needed(known, [1000, 1000], 0.5) == pytest.approx(20.6)
    assert needed(known, [], 0.9) == 0
    told = weight(known, [1000, 1000])
    assert told.low == pytest.approx(20 - 2.849, abs=0.001)
    assert told.high == pytest.approx(20 + 2.849, abs=0.001)


def test_balls_are_whole_and_of_one_lot() -> None:
    assert short(120, 20, 50) == Short(100, 120, 2, 3)
    assert short(120, 19.9, 50).balls == 3
    assert short(120, 120, 50) == Short(0, 120, 0, 3)
    assert short(120, 200, None) == Short(0, 120, None, None)


# A seam of 20 stitches takes three times its length, and one stitch at least 3.7 of its widths.
def test_sewing_takes_as_much_as_so_many_stitches() -> None:
    assert sewing(0) == 0
    assert sewing(20) == 17
    assert sewing(37) == 30


# 2 × 3 squares of 10: 20 + 30 + 20 + 30 stitches and 4 corners. Two rounds of 104, two of 112.
def test_a_border_grows_by_two_in_each_corner() -> None:
    around = border(Layout(columns=2, rows=3, stitches=10, mitre=Mitre.PAIRED))
    assert ridges(around, 0) == []
    assert ridges(around, 2) == [2 * 104, 2 * 112]
