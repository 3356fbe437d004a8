"""When will it be done: many runs of the plan, and what they say together."""

from array import array
from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import repeat
from math import ceil, floor, inf
from random import Random
from typing import NamedTuple

from .causes import Blame, blames
from .draws import Draw, draws
from .prepared import Prepared
from .run import Run
from .situation import Situation


def runs_of(situation: Situation, times: int, seed: int) -> Iterator[Run]:
    """Play ``times`` times, in days of knitting; the same ``seed`` gives the same runs.

    Luck goes with a place: the same seed is the same luck for another layout of the same places,
    for one more knitter, and when a square has been finished.
    """
    week, situation = situation.week, situation.by_knitting()
    prepared = Prepared(situation, week)
    drawn = drawn_for(situation, seed) if situation.history else repeat(None)
    for number, draw in zip(range(times), drawn, strict=False):
        yield Run(prepared, Random(f"{seed}-{number}"), draw)  # noqa: S311 - chance, not secrecy


def drawn_for(situation: Situation, seed: int) -> Iterator[Draw]:
    """What may be true of the knitters of ``situation``, a draw for each run."""
    assert situation.history
    random, news = Random(f"{seed}-drawn"), Random(f"{seed}-new")  # noqa: S311
    people = [knitter.person for knitter in situation.knitters]
    return (draw.of(people, news) for draw in draws(situation.history, random))


class Never(StrEnum):
    """Why the last square is never finished."""

    NO_KNITTERS = "no-knitters"
    ALL_AWAY = "all-away"  # nobody who is needed ever comes back


class HeldBack(NamedTuple):
    """A cause with its share (0–1) of the last chains of all runs."""

    blame: Blame
    share: float


class Band(NamedTuple):
    """Squares finished by a day, those that are finished now included."""

    day: float
    low: int  # in 90 % of the runs, so many or more
    middle: int
    high: int  # in 90 % of the runs, so many or fewer


@dataclass(frozen=True)
class Forecast:
    """What the runs say. Days are counted from the beginning of today, ``inf`` stands for never.

    ``days``: of each run until the last square, ascending. ``held_back``: the greatest share
    first; empty when nothing is left to knit.
    """

    situation: Situation
    days: tuple[float, ...]
    held_back: tuple[HeldBack, ...]
    _finishes: tuple["array[float]", ...]  # of each run, ascending

    def within(self, share: float) -> float:
        """The days that are kept with a probability of ``share``."""
        return quantile(self.days, share)

    def day(self, share: float) -> float:
        """The day (0 is today) by whose end it is done with a probability next to ``share``.

        Where much falls on one day, as among people who meet, the day before that may be nearer.
        """
        within = self.within(share)
        if within == inf:
            return inf
        found = floor(within)
        before = bisect_left(self.days, found)
        until = bisect_left(self.days, found + 1)
        wanted = share * len(self.days)
        nearer = before and wanted - before < until - wanted
        return floor(self.days[before - 1]) if nearer else found

    def kept(self, days: float) -> float:
        """The share of the runs that are done within ``days``."""
        return bisect_right(self.days, days) / len(self.days)

    @property
    def left(self) -> int:
        """How many squares are not finished now."""
        return len(self.situation.plan.places) - len(self.situation.finished)

    @property
    def never(self) -> Never | None:
        if self.days[0] < inf:
            return None
        return Never.ALL_AWAY if self.situation.knitters else Never.NO_KNITTERS

    def progress(self, days: Sequence[float]) -> list[Band]:
        """How many squares are finished by each of the ``days``."""
        so_far = len(self.situation.finished)
        bands = []
        for day in days:
            counts = sorted(so_far + bisect_right(run, day) for run in self._finishes)
            low, middle = quantile(counts[::-1], 0.9), quantile(counts, 0.5)
            bands.append(Band(day, int(low), int(middle), int(quantile(counts, 0.9))))
        return bands


def forecast(situation: Situation, times: int, seed: int) -> Forecast:
    """Play ``situation`` ``times`` times (at least once)."""
    return collected(situation, runs_of(situation, times, seed))


def collected(situation: Situation, runs: Iterator[Run]) -> Forecast:
    """What the ``runs`` say together; they may be counted on their way here."""
    days: list[float] = []
    finishes: list[array[float]] = []
    causes: defaultdict[Blame, float] = defaultdict(float)
    for run in runs:
        days.append(run.end)
        finishes.append(array("d", run.finishes()))
        if run.days < inf:
            for blame, lost in blames(run).items():
                causes[blame] += lost
    total = sum(causes.values())
    shares = [HeldBack(blame, lost / total) for blame, lost in causes.items() if lost]
    shares.sort(key=lambda held: -held.share)
    return Forecast(situation, tuple(sorted(days)), tuple(shares), tuple(finishes))


def quantile(ordered: Sequence[float], share: float) -> float:
    """The first of the values in ``ordered`` by which ``share`` of them are reached."""
    # Rounded first: 0.9 × 10 is a little more than 9 in floats of some shares.
    rank = ceil(round(share * len(ordered), 6))
    return ordered[max(rank, 1) - 1]
