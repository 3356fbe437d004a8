"""How many days things take: what is assumed before anything is seen, and hand-overs."""

from collections.abc import Sequence
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


class PacePrior(NamedTuple):
    """What is assumed of paces before anything is seen.

    ``median``: days for a square of one unit in the middle of all circles; its logarithm is
    Student's t with the scale ``doubt`` and so many degrees of ``freedom``. ``lesson``: the scale
    of how much longer (logarithm) a first square takes, one half of a Cauchy distribution: there
    mostly is little to learn, now and then much. ``apart``, ``within``:
    sigmas of the logarithm between the people of a circle, and between the squares of one person;
    the latter, and how many times it the former is, weigh like ``weight`` observations each.
    """

    median: float
    doubt: float
    freedom: float
    apart: float
    within: float
    weight: float
    lesson: float


class Prior(NamedTuple):
    """What is assumed before anything is seen; it weighs as much as ``weight`` observations."""

    median: float
    spread: float
    weight: float


# Guesses to start from (common practice of slow hand work: a few evenings a week); replaced by
# the circle's own events. In days for a square of one unit, and from one pair of hands to the next.
SQUARE = PacePrior(
    median=5.0, doubt=1.0, freedom=3.0, apart=0.22, within=0.35, weight=1.0, lesson=0.05
)
HAND_OVER = Prior(median=7.0, spread=0.5, weight=2.0)


def hand_over(days: Sequence[float], prior: Prior = HAND_OVER) -> Days:
    """The days from asking for a piece to having it: ``prior`` moved towards the ``days`` seen.

    The normal update of their logarithms, mean and variance both unknown (conjugate
    normal–inverse-gamma; Gelman and others, Bayesian Data Analysis, 3.3). Without observations
    the prior, with many of them their geometric mean and the standard deviation of their
    logarithms.
    """
    logs = [log(max(each, SHORTEST)) for each in days]
    guess, weight, seen = log(prior.median), prior.weight, len(logs)
    total = weight + seen
    mean = fmean(logs) if logs else guess
    squares = weight * prior.spread**2 + sum((each - mean) ** 2 for each in logs)
    squares += weight * seen / total * (mean - guess) ** 2
    spread = sqrt(squares / total)
    return Days(exp((weight * guess + seen * mean) / total), spread, spread / sqrt(total))
