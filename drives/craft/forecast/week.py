"""On which days of the week a circle knits: calendar days as days of knitting, and back."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from math import floor, isinf

ASSUMED = 0.7  # squares that are assumed to have been finished on each day of the week


@dataclass(frozen=True)
class Week:
    """``rates``: the knitting on each day of a week, 7 in all; the first is that of day 0, today.

    Calendar days are 0 at the beginning of today, days of knitting at ``start``, which lies in
    today. A week has seven days of knitting.
    """

    rates: tuple[float, ...] = (1.0,) * 7
    start: float = 0.0

    @cached_property
    def even(self) -> bool:
        return self.rates == (1.0,) * 7

    @cached_property
    def _sums(self) -> list[float]:
        return [0.0, *accumulate(self.rates)]

    def knitting(self, day: float) -> float:
        """The days of knitting from the start until ``day``."""
        if isinf(day) or self.even:
            return day - self.start
        return self._since(day) - self.start * self.rates[0]

    def _since(self, day: float) -> float:
        weeks = floor(day / 7)
        whole = min(floor(day - 7 * weeks), 6)
        return 7 * weeks + self._sums[whole] + (day - 7 * weeks - whole) * self.rates[whole]

    def day(self, knitting: float) -> float:
        """When so many days of knitting are done."""
        if isinf(knitting) or self.even:
            return knitting + self.start
        knitting += self.start * self.rates[0]
        weeks = floor(knitting / 7)
        rest = knitting - 7 * weeks
        whole = next((n for n in range(6) if rest <= self._sums[n + 1]), 6)
        return 7 * weeks + whole + min((rest - self._sums[whole]) / self.rates[whole], 1.0)


def week_of(finished: Iterable[float], start: float = 0.0, assumed: float = ASSUMED) -> Week:
    """From the days on which squares were ``finished``, against an even spread since the first.

    Each weekday's squares and as many as an even spread would have brought it, both with those
    ``assumed``: so a weekday that has not come yet is like the others.
    """
    days = [floor(day) for day in finished]
    seen = Counter(day % 7 for day in range(min(days, default=0), 1))
    counts, even = Counter(day % 7 for day in days), len(days) / max(seen.total(), 1)
    rates = [(counts[day] + assumed) / (even * seen[day] + assumed) for day in range(7)]
    return Week(tuple(7 * rate / sum(rates) for rate in rates), start)


def stretches(week: Week, away: Sequence[tuple[float, float]]) -> tuple[tuple[float, float], ...]:
    """``away`` in days of knitting."""
    return tuple((week.knitting(leaves), week.knitting(returns)) for leaves, returns in away)
