"""All that is not known of a circle, drawn at random from what may be true: once for each run."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from math import inf, log
from random import Random
from typing import NamedTuple

from .history import History
from .normal import above
from .pace import SQUARE
from .paces import Paces, PaceSampler
from .rests import RestPrior, Rests, RestSampler
from .seen import Between, Hands, seen


class Share(NamedTuple):
    """What is assumed of a share: as if ``weight`` had been seen, with this ``mean``."""

    mean: float
    weight: float

    def draw(self, random: Random, yes: int, no: int) -> float:
        """After so many were seen: the conjugate beta distribution."""
        first = self.mean * self.weight
        return random.betavariate(first + yes, self.weight - first + max(no, 0))


# Guesses; the page tells them.
REST = RestPrior((0.0, 0.0, 1.0), 0.25)
START = RestPrior((0.0, 0.0, 3.0), 0.25)
NEVER = Share(0.1, 1.5)  # people who never begin
LEAVING = Share(0.015, 3.0)  # squares after which somebody stops for good
GIVING_UP = Share(0.008, 3.0)  # squares that are not finished
STOPPING = Share(0.7, 2.0)  # people who give a square up and never come back

WARM_UP = 20  # draws that are thrown away


@dataclass(frozen=True)
class Draw:
    """What is true in one run. Lists are by knitter.

    ``free``: from when on somebody can take a square, ``inf`` for who has left or never begins.
    ``drops``: whether a square in hand will not be finished. ``leaving``: the chance to stop for
    good after a square; ``giving_up``: that a square is not finished, and ``stopping`` that who
    gives one up does not come back.
    """

    paces: Paces
    done: Sequence[int]
    free: Sequence[float]
    drops: Sequence[bool]
    rests: Rests
    leaving: float
    giving_up: float
    stopping: float
    rested: int  # rests that were seen

    def of(self, people: Sequence[int | None], random: Random) -> "Draw":
        """The same for these ``people`` alone, in this order; None is somebody new."""
        paces = self.paces
        free = [0.0 if who is None else self.free[who] for who in people]
        if free and min(free) == inf:  # of these somebody knits
            free[0] = 0.0
        return replace(
            self,
            paces=paces._replace(
                median=[
                    paces.someone(random) if who is None else paces.median[who] for who in people
                ]
            ),
            done=[0 if who is None else self.done[who] for who in people],
            free=free,
            drops=[who is not None and self.drops[who] for who in people],
        )


def draws(history: History, random: Random) -> Iterator[Draw]:
    """Without end; the same ``random`` gives the same."""
    sampler = _Sampler(seen(history), history)
    for _ in range(WARM_UP):
        sampler.draw(random)
    while True:
        yield sampler.draw(random)


class _Sampler:
    def __init__(self, hands: Sequence[Hands], history: History) -> None:
        self._hands = hands
        self._held = [
            next((spell for spell in history.of(who) if spell.open), None)
            for who in range(len(hands))
        ]
        self._paces = PaceSampler([each.works for each in hands], SQUARE)
        self._rests = RestSampler([rest for each in hands for rest in each.rests], REST)
        starts = [each.start for each in hands if each.start is not None]
        self._starts = RestSampler(starts, START)
        self._rested = sum(len(each.rests) for each in hands)
        self._gone = [False] * len(hands)
        self._drops = [False] * len(hands)
        self._never = self._leaving = self._giving_up = 0.05
        self._stopping = 0.5

    def draw(self, random: Random) -> Draw:
        self._draw_gone(random)
        self._draw_shares(random)
        paces = self._paces.draw(random, [not drops for drops in self._drops])
        self._draw_drops(random, paces)
        rests = self._rests.draw(random, self._resting(began=True))
        starts = self._starts.draw(random, self._resting(began=False))
        return Draw(
            paces=paces,
            done=[each.finished for each in self._hands],
            free=[self._free(who, rests, starts, random) for who in range(len(self._hands))],
            drops=list(self._drops),
            rests=rests,
            leaving=self._leaving,
            giving_up=self._giving_up,
            stopping=self._stopping,
            rested=self._rested,
        )

    def _resting(self, began: bool) -> list[Between]:
        return [
            Between(each.silent, inf)
            for each, gone in zip(self._hands, self._gone, strict=True)
            if each.silent is not None and not gone and (each.start is not None) == began
        ]

    def _free(self, who: int, rests: Rests, starts: Rests, random: Random) -> float:
        hands = self._hands[who]
        if hands.silent is None:
            return 0.0
        if self._gone[who]:
            return inf
        habit = starts if hands.start is None else rests
        return hands.free + habit.between(hands.silent, inf, random.random())

    def _draw_gone(self, random: Random) -> None:
        """Who is silent has left, or rests (a cure model: J. W. Boag, JRSS B 11, 1949)."""
        for who, hands in enumerate(self._hands):
            if hands.silent is None:
                continue
            if hands.start is None:
                share, still = self._never, self._starts.now.longer(hands.silent) * hands.lost
            elif hands.let_go:
                share, still = self._stopping, self._rests.now.longer(hands.silent)
            else:
                share, still = self._leaving, self._rests.now.longer(hands.silent)
            odds = share / max(share + (1 - share) * max(still, 1e-6), 1e-12)
            self._gone[who] = random.random() < odds
        # Somebody knits on, or nothing would be left to tell: whoever was seen last.
        if all(self._gone) and self._gone:
            last = max(range(len(self._hands)), key=lambda who: self._hands[who].free)
            self._gone[last] = False

    def _draw_shares(self, random: Random) -> None:
        gone = list(zip(self._hands, self._gone, strict=True))
        began = sum(hands.start is not None for hands in self._hands)
        never = sum(left for hands, left in gone if hands.start is None)
        here = sum(not left for hands, left in gone if hands.start is None)
        self._never = NEVER.draw(random, never, began + here)
        left = sum(left for hands, left in gone if hands.start is not None and not hands.let_go)
        finished = sum(hands.finished for hands in self._hands)
        self._leaving = LEAVING.draw(random, left, finished - left)
        given_up = sum(hands.given_up for hands in self._hands) + sum(self._drops)
        self._giving_up = GIVING_UP.draw(random, given_up, finished)
        stopped = sum(left for hands, left in gone if hands.start is not None and hands.let_go)
        self._stopping = STOPPING.draw(
            random, stopped, sum(hands.came_back for hands in self._hands)
        )

    def _draw_drops(self, random: Random, paces: Paces) -> None:
        """A square that is held for long will be finished late, or not at all."""
        for who, spell in enumerate(self._held):
            if spell is None:
                continue
            days = self._hands[who].works[-1].days.low
            middle = paces.days(who, self._hands[who].finished)
            deviation = log(max(days, 1e-3) / middle) / paces.within
            still = above(deviation)
            share = self._giving_up
            self._drops[who] = random.random() * (share + (1 - share) * still) < share
