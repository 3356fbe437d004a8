"""Whether one knitter's squares grow or shrink as more of them are made."""

from collections.abc import Iterable
from datetime import date
from itertools import count as counting
from math import sqrt
from operator import attrgetter
from statistics import fmean, linear_regression, stdev
from typing import NamedTuple

from drives.craft.numbers.outliers import hidden
from drives.craft.numbers.student import t_quantile

from .tension import TOLERANCE

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
    around it, and the tape, would make by chance once in twenty times. ``least``: the smallest
    ``change`` that so many, spread like that, can show; None for fewer than three. ``needed``: how
    many, spread no more than the tape hides, show one of ``TOLERANCE``.
    """

    squares: int
    mean: float
    spread: float | None
    trend: float | None
    shown: bool
    least: float | None
    needed: int

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
    needed = next(many for many in counting(3) if _least(many, hidden(tape)) <= TOLERANCE * mean)
    if count < 3:
        spread = stdev(sides) if count > 1 else None
        return Drift(count, mean, spread, None, False, None, needed)
    trend, start = linear_regression(range(count), sides)
    left = sum((side - start - trend * index) ** 2 for index, side in enumerate(sides))
    around = sqrt(max(left / (count - 2), hidden(tape) ** 2))
    least = _least(count, around)
    shown = abs(trend) * (count - 1) > least
    return Drift(count, mean, stdev(sides), trend, shown, least / mean, needed)


def _least(count: int, around: float) -> float:
    """The smallest change from first to last, in cm, that ``count`` squares show; at least three.

    ``around``: the standard deviation around their trend, in cm.
    """
    error = around / sqrt((count**3 - count) / 12)  # the squares of 0, 1, 2 … about their mean
    return t_quantile((1 + SURE) / 2, count - 2) * error * (count - 1)
