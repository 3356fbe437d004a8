"""Grams for squares that are still to be knitted, and whether what there is will be enough."""

from collections.abc import Sequence
from itertools import accumulate
from math import hypot, sqrt
from typing import NamedTuple

from drives.craft.numbers.ranges import Range
from drives.craft.numbers.student import below, t_quantile

from .rests_on import RestsOn
from .weighing import PerStitch
from .yarn import TAILS_SHARE, Estimate, spared

SURE = 0.9


class Enough(NamedTuple):
    """Whether a stock suffices for the ``left`` squares of a colour.

    ``probability`` for all of them; ``suffices_for``: so many of the next ones with 90 % and more.
    """

    probability: float
    left: int
    suffices_for: int
    rests_on: RestsOn

    @property
    def short(self) -> bool:
        return self.suffices_for < self.left


def estimate(
    known: PerStitch, squares: Sequence[int], metres_per_100_grams: float | None = None
) -> Estimate:
    """Grams for ``squares``, each told by the stitches worked in it: one, a colour's, a blanket's.

    From the least to the most that it takes with 90 %; the most with tails and a margin.
    """
    mean, sigma = _sums(known, squares)[-1]
    about = t_quantile((1 + SURE) / 2, known.degrees) * sigma
    grams = spared(Range(max(mean - about, 0), mean + about))
    metres = None if metres_per_100_grams is None else grams.times(metres_per_100_grams / 100)
    return Estimate(grams, metres, known.rests_on)


def whether_enough(known: PerStitch, squares: Sequence[int], grams: float) -> Enough:
    """Whether ``grams`` suffice for ``squares``, told as above in the order of knitting.

    The grams of squares to come are predicted by Student's t, with the uncertainty of the mean
    and tails but no margin (predictive distribution; Gelman and others, Bayesian Data Analysis,
    3.2). Squares count as independent of each other: one hand that takes more makes it less sure.
    """
    nothing, *sums = _sums(known, squares)
    have = grams / (1 + TAILS_SHARE)
    mean, sigma = sums[-1] if sums else nothing
    probability = below((have - mean) / sigma, known.degrees) if sums else 1.0
    sure = t_quantile(SURE, known.degrees)
    suffices_for = sum(mean + sure * sigma <= have for mean, sigma in sums)
    return Enough(probability, len(squares), suffices_for, known.rests_on)


def needed(known: PerStitch, squares: Sequence[int], certainty: float) -> float:
    """The grams that suffice for ``squares`` with a ``certainty`` between 0 and 1.

    Predicted, with tails, as in ``whether_enough``, which answers this chance for so many grams.
    """
    mean, sigma = _sums(known, squares)[-1]
    most = mean + t_quantile(certainty, known.degrees) * sigma
    return max(most, 0.0) * (1 + TAILS_SHARE)


def weight(known: PerStitch, squares: Sequence[int]) -> Range:
    """What ``squares`` will weigh, with ``SURE``: tails are woven in or cut off, nothing spared."""
    mean, sigma = _sums(known, squares)[-1]
    about = t_quantile((1 + SURE) / 2, known.degrees) * sigma
    return Range(max(mean - about, 0), mean + about)


def _sums(known: PerStitch, squares: Sequence[int]) -> list[tuple[float, float]]:
    """Mean and sigma of the grams in the first none, one, two … of ``squares``."""
    stitches = accumulate(squares, initial=0)
    each_squared = accumulate((square**2 for square in squares), initial=0)
    return [
        (known.mean * all_, hypot(known.doubt * all_, known.spread * sqrt(alone)))
        for all_, alone in zip(stitches, each_squared, strict=True)
    ]
