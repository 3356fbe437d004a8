"""Student's t: what a mean and a spread that are themselves estimated allow to say."""

from math import atan, cos, pi, sin, sqrt
from statistics import NormalDist

NORMAL = NormalDist()


def below(t: float, degrees: int | None) -> float:
    """The probability of less than ``t`` with ``degrees`` of freedom, one or more; None: normal.

    The finite series of Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.3 and
    26.7.4.
    """
    if degrees is None:
        return NORMAL.cdf(t)
    angle = atan(t / sqrt(degrees))
    square = cos(angle) ** 2
    odd = degrees % 2
    term = cos(angle) if odd else 1.0
    total = 0.0
    for step in range(1, degrees // 2 + 1):
        total += term
        term *= square * (2 * step / (2 * step + 1) if odd else (2 * step - 1) / (2 * step))
    total *= sin(angle)
    between = 2 / pi * (angle + total) if odd else total
    return min(max((1 + between) / 2, 0.0), 1.0)


def t_quantile(probability: float, degrees: int | None) -> float:
    """The ``t`` with ``probability``, between 0 and 1, of anything less."""
    if degrees is None:
        return NORMAL.inv_cdf(probability)
    if probability < 0.5:
        return -t_quantile(1 - probability, degrees)
    low, high = 0.0, 1.0
    while below(high, degrees) < probability:
        low, high = high, 2 * high
    for _ in range(50):  # halved so often, nothing of the bracket is left
        middle = (low + high) / 2
        low, high = (middle, high) if below(middle, degrees) < probability else (low, middle)
    return (low + high) / 2
