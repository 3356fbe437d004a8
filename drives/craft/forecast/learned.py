"""What has been learned of a circle, in a few numbers: the middle of many draws."""

from itertools import islice
from math import exp, inf, log
from random import Random
from statistics import fmean, median, pstdev
from typing import NamedTuple

from .draws import draws
from .history import History
from .pace import Days

DRAWS = 100


class Learned(NamedTuple):
    """``paces``, ``gone`` by person; ``gone``: the probability to have left, or never to begin.

    ``rest``: days from finishing a square to taking the next, on average, of which ``rests`` were
    seen. ``leaving``, ``giving_up``: shares of squares after which somebody stops for good, and
    which are not finished. ``first``: how many times as long a first square takes.
    """

    paces: list[Days]
    gone: list[float]
    rest: float
    rests: int
    leaving: float
    giving_up: float
    first: float


def learned(history: History, seed: int, times: int = DRAWS) -> Learned:
    """The same ``seed`` gives the same."""
    drawn = list(islice(draws(history, Random(f"{seed}-learned")), times))  # noqa: S311
    paces = [draw.paces for draw in drawn]
    within, people = fmean(each.within for each in paces), range(len(history.people))
    logs = [[log(each.median[who]) for each in paces] for who in people]
    return Learned(
        paces=[Days(exp(fmean(each)), within, pstdev(each)) for each in logs],
        gone=[fmean(draw.free[who] == inf for draw in drawn) for who in people],
        rest=fmean(draw.rests.mean for draw in drawn),
        rests=drawn[0].rested,
        leaving=fmean(draw.leaving for draw in drawn),
        giving_up=fmean(draw.giving_up for draw in drawn),
        first=exp(median(each.lesson for each in paces)),
    )
