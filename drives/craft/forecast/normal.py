"""The normal distribution far out in its tail, where its usual forms are 0 in floats."""

from math import erfc, log, sqrt
from statistics import NormalDist

_NORMAL = NormalDist()
# erfc is exact down to the smallest floats, at some 37; before that the other form takes over.
_FAR = 30.0


def above(value: float) -> float:
    """The probability of more than ``value``; ``NormalDist.cdf`` is 0 already at -8.3."""
    return 0.5 * erfc(value / sqrt(2))


def beyond(least: float, luck: float) -> float:
    """A normal value of which it is known that it is more than ``least``.

    ``luck``, a normal value itself, keeps its rank among what is still possible.
    """
    rest = above(luck)  # the share of values that are greater
    if least < _FAR:
        tail = above(least) * rest
        if tail > 0.5:  # floats are exact near 0, not near 1
            return _NORMAL.inv_cdf(max(1 - tail, 1e-300))
        return -_NORMAL.inv_cdf(tail)
    # Far out the tail falls like exp(-x²/2) (Marsaglia, Generating a variable from the tail of
    # the normal distribution, Technometrics 6, 1964).
    return sqrt(least * least - 2 * log(rest))
