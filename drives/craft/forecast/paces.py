"""Paces drawn at random from all that may be true, given the days that squares took.

The logarithm of a square's days is normal around its knitter's own middle, and that around the
circle's; early squares may take longer. Days that are only known to be more than some (a square
in hand) are drawn along with the rest: data augmentation by Gibbs sampling (M. A. Tanner and W. H.
Wong, The calculation of posterior distributions by data augmentation, JASA 82, 1987; for censored
values S. Chib, Bayes inference in the Tobit censored regression model, J. Econometrics 51, 1992).
"""

from collections.abc import Sequence
from math import exp, inf, log, sqrt
from random import Random
from typing import NamedTuple

from .normal import between
from .pace import PacePrior
from .seen import Work

# Bounds of sigmas: beyond them, one square that was held for a year would tell of centuries.
LEAST, MOST = 0.02, 1.0
LEAST_APART = 0.1  # however even each one's squares are, people differ
LONGEST_LESSON = 1.2  # a first square takes at most so much longer (logarithm), and never shorter
# Days for a square of one unit between which the middle of any circle lies.
QUICKEST, SLOWEST = 0.1, 90.0


class Paces(NamedTuple):
    """One draw: ``median`` days by person, around ``middle`` with the sigma ``apart``.

    ``within``: sigma from square to square; ``lesson``: how much longer a first square takes.
    """

    median: list[float]
    middle: float
    apart: float
    within: float
    lesson: float

    def someone(self, random: Random) -> float:
        """The median of somebody of whom nothing is known."""
        return self.middle * exp(random.gauss(0, self.apart))

    def days(self, knitter: int, nth: int) -> float:
        """The middle of the days that ``knitter`` takes for the ``nth`` square of one unit."""
        return self.median[knitter] * exp(self.lesson / (1 + nth))


class PaceSampler:
    """Draws follow each other: each begins where the last one ended; ``within`` is of that one."""

    def __init__(self, works: Sequence[Sequence[Work]], prior: PacePrior) -> None:
        self._prior = prior
        self._works = works
        # Logarithms of the bounds, and of the days as they are drawn at the moment.
        self._low = [[_log(work.days.low) for work in each] for each in works]
        self._high = [[_log(work.days.high) for work in each] for each in works]
        self._first = [[1 / (1 + work.nth) for work in each] for each in works]
        self._drawn = [list(each) for each in self._low]
        self._open = [
            [number for number, work in enumerate(each) if not work.days.exact] for each in works
        ]
        self._middle, self._lesson = log(prior.median), 0.0
        self.within, self._ratio = prior.within, prior.apart / prior.within
        self._own = [self._middle] * len(works)

    def draw(self, random: Random, held: Sequence[bool]) -> Paces:
        """``held``: by person, whether a square in hand is still being knitted."""
        self._fill(random, held)
        self._draw_own(random)
        self._draw_middle(random)
        self._draw_sigmas(random)
        return Paces(
            [exp(each) for each in self._own],
            exp(self._middle), self._apart, self.within, self._lesson,
        )  # fmt: skip

    def _fill(self, random: Random, held: Sequence[bool]) -> None:
        """Draw the days that are not known exactly."""
        self._left_out = [set[int]() for _ in self._works]
        for who, numbers in enumerate(self._open):
            for number in numbers:
                low, high = self._low[who][number], self._high[who][number]
                if high == inf and not held[who]:
                    self._left_out[who].add(number)
                    continue
                middle = self._own[who] + self._lesson * self._first[who][number]
                value = between(
                    (low - middle) / self.within, (high - middle) / self.within, random.random()
                )
                self._drawn[who][number] = middle + self.within * value

    def _draw_own(self, random: Random) -> None:
        for who in range(len(self._works)):
            rest = [
                days - self._lesson * first
                for number, (days, first) in enumerate(
                    zip(self._drawn[who], self._first[who], strict=True)
                )
                if number not in self._left_out[who]
            ]
            precision = self._apart**-2 + len(rest) * self.within**-2
            mean = self._middle * self._apart**-2 + sum(rest) * self.within**-2
            self._own[who] = random.gauss(mean / precision, sqrt(1 / precision))

    @property
    def _knitting(self) -> list[float]:
        """The middles of those who have works: only they tell."""
        return [value for value, works in zip(self._own, self._works, strict=True) if works]

    def _draw_middle(self, random: Random) -> None:
        prior, own = self._prior, self._knitting
        doubt = _precision(random, self._middle - log(prior.median), prior.doubt, prior.freedom)
        precision = doubt + len(own) * self._apart**-2
        mean = log(prior.median) * doubt + sum(own) * self._apart**-2
        middle = random.gauss(mean / precision, sqrt(1 / precision))
        self._middle = min(max(middle, log(QUICKEST)), log(SLOWEST))

    def _draw_sigmas(self, random: Random) -> None:
        """``within``, and ``apart`` as a multiple of it: both tell how even a circle is."""
        prior, own = self._prior, self._knitting
        apart = sum((value - self._middle) ** 2 for value in own)
        ratio = prior.apart / prior.within
        self._ratio = _sigma(random, ratio, prior.weight, apart / self.within**2, len(own))
        count, squares, cross, weight = 0, 0.0, 0.0, 0.0
        for who, middle in enumerate(self._own):
            for number, (days, first) in enumerate(
                zip(self._drawn[who], self._first[who], strict=True)
            ):
                if number in self._left_out[who]:
                    continue
                count += 1
                squares += (days - middle - self._lesson * first) ** 2
                cross += first * (days - middle)
                weight += first * first
        self.within = _sigma(
            random, prior.within, prior.weight, squares + apart / self._ratio**2, count + len(own)
        )
        precision = _precision(random, self._lesson, prior.lesson, 1.0)
        precision += weight * self.within**-2
        mean, sigma = cross * self.within**-2 / precision, sqrt(1 / precision)
        bounds = -mean / sigma, (LONGEST_LESSON - mean) / sigma
        self._lesson = mean + sigma * between(*bounds, random.random())

    @property
    def _apart(self) -> float:
        return max(self._ratio * self.within, LEAST_APART)


def _precision(random: Random, deviation: float, scale: float, freedom: float) -> float:
    """A draw of 1/sigma² for Student's t as a mixture of normals: what is rare is soon believed."""
    surprise = 1 + deviation**2 / scale**2 / freedom
    return scale**-2 * random.gammavariate((freedom + 1) / 2, 2 / freedom / surprise)


def _sigma(random: Random, guess: float, weight: float, squares: float, count: int) -> float:
    """A draw of a sigma: the conjugate inverse gamma (Gelman and others, BDA, 2.6)."""
    shape, scale = (weight + count) / 2, (weight * guess**2 + squares) / 2
    return min(max(sqrt(scale / random.gammavariate(shape, 1)), LEAST), MOST)


def _log(days: float) -> float:
    return inf if days == inf else log(max(days, 1e-3))
