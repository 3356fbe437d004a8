"""How long people rest between squares: drawn from what was seen, with what was not yet over.

The Bayesian bootstrap (D. B. Rubin, Annals of Statistics 9, 1981) over the days seen, with a few
assumed ones; what is only known to lie between two bounds is drawn along with the rest from what
is possible. With little that is open, it is the estimate of Kaplan and Meier (JASA 53, 1958) with
its doubt.
"""

from bisect import bisect_right
from collections.abc import Sequence
from itertools import accumulate, pairwise
from math import inf
from operator import mul
from random import Random
from statistics import fmean
from typing import NamedTuple

from .seen import Between

TAIL = 2.0  # days that half of what is assumed may exceed


class RestPrior(NamedTuple):
    """``days`` that are assumed beside those that are seen; each weighs ``weight`` of one."""

    days: tuple[float, ...]
    weight: float

    @property
    def mean(self) -> float:
        return fmean(self.days)


class Rests(NamedTuple):
    """One draw: ``days`` ascending, and the sums of their weights up to each.

    ``tail``: the share of the assumed ones, which may be much longer (a Pareto distribution).
    """

    days: list[float]
    sums: list[float]
    tail: float

    @property
    def mean(self) -> float:
        weights = [self.sums[0], *(after - before for before, after in pairwise(self.sums))]
        return float(sum(map(mul, self.days, weights)) / self.sums[-1])

    def longer(self, days: float) -> float:
        """The share of rests that are longer than ``days``."""
        index = bisect_right(self.days, days)
        seen = 1 - (self.sums[index - 1] / self.sums[-1] if index else 0.0)
        return (1 - self.tail) * seen + self.tail / (1 + max(days, 0.0) / TAIL)

    def at(self, share: float) -> float:
        """The rest by which ``share`` (0–1) of them are over."""
        index = bisect_right(self.sums, share * self.sums[-1])
        return self.days[min(index, len(self.days) - 1)]

    def between(self, low: float, high: float, share: float) -> float:
        """One of those that are longer than ``low`` and at most ``high``, by its ``share``.

        Where there is none: some day between the two, or as long again as ``low``, as a tail
        without an end would have it.
        """
        first, last = bisect_right(self.days, low), bisect_right(self.days, high)
        before = self.sums[first - 1] if first else 0.0
        after = self.sums[last - 1] if last else 0.0
        if after - before > 1e-9:
            index = bisect_right(self.sums, before + share * (after - before))
            return self.days[min(max(index, first), last - 1)]
        if high < inf:
            return low + share * (high - low)
        return float(max(low, 0.5) / max(1 - share, 0.1) ** 0.5)


class RestSampler:
    """``seen``: what is known for sure, and what lies between bounds. Draws follow each other."""

    def __init__(self, seen: Sequence[Between], prior: RestPrior) -> None:
        self._exact = [each.low for each in seen if each.exact]
        self._open = [each for each in seen if not each.exact]
        self._prior = prior
        assumed = prior.weight * len(prior.days)
        self._tail = assumed / (assumed + len(seen))
        weights = [(days, 1.0) for days in self._exact]
        self.now = self._weighed(weights + [(days, prior.weight) for days in prior.days])

    def draw(self, random: Random, more: Sequence[Between] = ()) -> Rests:
        """``more``: rests that are not over, of those who are thought to come back."""
        drawn = [
            self.now.between(each.low, each.high, random.random()) for each in (*self._open, *more)
        ]
        weights = [(days, random.expovariate(1)) for days in (*self._exact, *drawn)]
        weights += [(days, random.gammavariate(self._prior.weight, 1)) for days in self._prior.days]
        self.now = self._weighed(weights)
        return self.now

    def _weighed(self, weights: list[tuple[float, float]]) -> Rests:
        weights.sort()
        sums = accumulate(weight for _, weight in weights)
        return Rests([days for days, _ in weights], list(sums), self._tail)
