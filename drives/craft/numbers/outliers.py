"""Measurements that lie far from the others: mistyped, or of something else."""

from collections.abc import Sequence
from math import sqrt
from statistics import NormalDist, median

FEWEST = 5  # with fewer nothing is called an outlier
CUT = 3.5
TO_SIGMA = 1 / NormalDist().inv_cdf(0.75)  # 1.4826: from a median deviation to a standard one


def outliers(values: Sequence[float], steps: Sequence[float]) -> tuple[int, ...]:
    """The indices of outliers among ``values``, each of which was rounded to its step.

    More than 3.5 median absolute deviations, scaled to a standard deviation, from the median
    (Iglewicz and Hoaglin, How to Detect and Handle Outliers, 1993). Where coarse steps make most
    values alike, what a step hides counts as the deviation.
    """
    if len(values) < FEWEST:
        return ()
    middle = median(values)
    sigma = TO_SIGMA * median(abs(value - middle) for value in values)
    return tuple(
        index
        for index, (value, step) in enumerate(zip(values, steps, strict=True))
        if abs(value - middle) > CUT * max(sigma, hidden(step))
    )


def hidden(step: float) -> float:
    """The standard deviation of what rounding to ``step`` takes away."""
    return step / sqrt(12)
