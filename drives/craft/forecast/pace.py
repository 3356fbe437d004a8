"""How many days things take: a circle's own events, leaning on a guess until there are enough."""

from collections.abc import Iterable, Sequence
from math import exp, log, sqrt
from statistics import fmean
from typing import NamedTuple

SHORTEST = 0.5  # less is a square that was noted when it was finished already


class Days(NamedTuple):
    """A lognormal number of days.

    ``spread``: sigma of the logarithm from one time to the next. ``doubt``: sigma of the logarithm
    of ``median`` itself: small where much has been seen.
    """

    median: float
    spread: float = 0.0
    doubt: float = 0.0


class Prior(NamedTuple):
    """What is assumed before anything is seen; it weighs as much as ``weight`` observations."""

    median: float
    spread: float
    weight: float


# A guess to start from (common practice of slow hand work: a few evenings a week); replaced by
# the circle's own events. In days for a square of one unit, and from one pair of hands to the next.
SQUARE = Prior(median=5.0, spread=0.6, weight=2.0)
HAND_OVER = Prior(median=7.0, spread=0.5, weight=2.0)


def learned(days: Sequence[float], prior: Prior) -> Days:
    """``prior`` moved towards the observed ``days``: the normal update of their logarithms.

    Mean and variance are both unknown (conjugate normal–inverse-gamma; Gelman and others,
    Bayesian Data Analysis, 3.3). Without observations the prior, with many of them their
    geometric mean and the standard deviation of their logarithms.
    """
    logs = [log(max(each, SHORTEST)) for each in days]
    guess, weight, seen = log(prior.median), prior.weight, len(logs)
    total = weight + seen
    mean = fmean(logs) if logs else guess
    squares = weight * prior.spread**2 + sum((each - mean) ** 2 for each in logs)
    squares += weight * seen / total * (mean - guess) ** 2
    spread = sqrt(squares / total)
    return Days(exp((weight * guess + seen * mean) / total), spread, spread / sqrt(total))


def pace(days_per_square: Sequence[float], prior: Prior = SQUARE) -> Days:
    """A member's pace from the days that their own squares took.

    In squares of one unit of the blanket at hand: divide the days of others by their stitches
    (``rows.worked``) and multiply by those of such a square first.
    """
    return learned(days_per_square, prior)


def hand_over(days: Sequence[float], prior: Prior = HAND_OVER) -> Days:
    """The days from asking for a piece to having it."""
    return learned(days, prior)


def circles_prior(days_of_each: Iterable[Sequence[float]], prior: Prior = SQUARE) -> Prior:
    """What to assume of a member without squares: between ``prior`` and the others' paces.

    Each member who has finished anything counts as one observation.
    """
    medians = [
        exp(fmean(log(max(each, SHORTEST)) for each in days)) for days in days_of_each if days
    ]
    return prior._replace(median=learned(medians, prior).median)
