"""Whether one knitter's squares grow or shrink as more of them are made."""

from collections.abc import Iterable
from datetime import date
from math import sqrt
from operator import attrgetter
from statistics import fmean, linear_regression, stdev
from typing import NamedTuple

from drives.craft.numbers.outliers import hidden
from drives.craft.numbers.student import t_quantile

TAPE = 0.5  # cm: what a tape measure is read to (common practice)
SURE = 0.95


class Made(NamedTuple):
    """A measured square: when it was finished and its side in cm."""

    on: date
    side: float


class Drift(NamedTuple):
    """``squares`` of one knitter, sides in cm, in the order in which they were made.

    ``spread``: standard deviation; None for one square. ``trend``: cm from one square to the next
    by least squares; None for fewer than three. ``shown``: the trend is more than the spread
    around it, and the tape, would make by chance once in twenty times.
    """

    squares: int
    mean: float
    spread: float | None
    trend: float | None
    shown: bool

    @property
    def change(self) -> float:
        """From the first square to the last along the trend, as a share of the mean."""
        return (self.trend or 0) * (self.squares - 1) / self.mean


def drift(made: Iterable[Made], tape: float = TAPE) -> Drift:
    """The drift of one knitter's squares, at least one, all of as many stitches.

    ``tape``: the steps, in cm, to which they were measured. The trend is judged by its standard
    error and Student's t; squares that a coarse tape makes alike count as if they differed by what
    it hides (its step ÷ √12).
    """
    sides = [each.side for each in sorted(made, key=attrgetter("on"))]
    count, mean = len(sides), fmean(sides)
    if count < 3:
        return Drift(count, mean, stdev(sides) if count > 1 else None, None, False)
    trend, start = linear_regression(range(count), sides)
    left = sum((side - start - trend * index) ** 2 for index, side in enumerate(sides))
    around = sqrt(max(left / (count - 2), hidden(tape) ** 2))
    error = around / sqrt((count**3 - count) / 12)  # the squares of 0, 1, 2 … about their mean
    shown = abs(trend) > t_quantile((1 + SURE) / 2, count - 2) * error
    return Drift(count, mean, stdev(sides), trend, shown)
