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


def between(low: float, high: float, share: float) -> float:
    """The normal value below which ``share`` (0–1) of those between ``low`` and ``high`` lie."""
    if low > 0:  # far in the upper tail floats are exact below: turn it around
        return -_below(-high, -low, 1 - share)
    return _below(low, high, share)


def _below(low: float, high: float, share: float) -> float:
    least, most = above(-low), above(-high)
    found = least + share * (most - least)
    if found < 1e-290:  # both are far out: the one that is nearer to the middle
        return high - max(-log(max(share, 1e-12)), 0.0) / max(abs(high), 1.0)
    return min(max(_NORMAL.inv_cdf(min(found, 1 - 1e-16)), low), high)
