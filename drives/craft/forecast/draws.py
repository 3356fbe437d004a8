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
    """What is assumed of a share: as if ``weight`` had been seen, with this ``mean``.

    It is that of a circle whose squares take as even times as is assumed.
    """

    mean: float
    weight: float

    def draw(self, random: Random, yes: int, no: int, times: float = 1.0) -> float:
        """After so many were seen: the conjugate beta distribution; so many ``times`` the mean."""
        first = self._first(times)
        return random.betavariate(first + yes, self.weight - first + max(no, 0))

    def expected(self, yes: int, no: int, times: float = 1.0) -> float:
        """The mean of the same."""
        return (self._first(times) + yes) / (self.weight + yes + max(no, 0))

    def _first(self, times: float) -> float:
        return min(self.mean * times, 0.9) * self.weight


# Guesses; the page tells them.
REST = RestPrior((0.0, 0.0, 1.0), 0.25)
START = RestPrior((0.0, 0.0, 3.0), 0.25)
NEVER = Share(0.1, 1.5)  # people who never begin
LEAVING = Share(0.018, 5.0)  # squares after which somebody stops for good
GIVING_UP = Share(0.008, 5.0)  # squares that are not finished
STOPPING = Share(0.7, 2.0)  # people who give a square up and never come back

UNEVEN = 4.0  # times as many, at most, of the first three where squares take uneven times
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
        self._finished = sum(each.finished for each in hands)
        self._leaving = self._giving_up = 0.05
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
        """Who is silent has left, or rests (a cure model: J. W. Boag, JRSS B 11, 1949).

        The share of those who leave is summed over, not drawn, and so never gets stuck near 0.
        """
        for who, hands in enumerate(self._hands):
            if hands.silent is None:
                continue
            share, self._gone[who] = _share_of(hands), False
            times = 1.0 if share is STOPPING else self._uneven
            leaves = share.expected(*self._counts(share), times)
            if share is NEVER:
                still = self._starts.now.longer(hands.silent) * hands.lost
            else:
                still = self._rests.now.longer(hands.silent)
            odds = leaves / max(leaves + (1 - leaves) * max(still, 1e-6), 1e-12)
            self._gone[who] = random.random() < odds
        # Somebody knits on, or nothing would be left to tell: whoever was seen last.
        if all(self._gone) and self._gone:
            last = max(range(len(self._hands)), key=lambda who: self._hands[who].free)
            self._gone[last] = False

    def _counts(self, share: Share) -> tuple[int, int]:
        """How many left, of those of whom ``share`` tells, and how many did not."""
        pairs = zip(self._hands, self._gone, strict=True)
        left = sum(gone for hands, gone in pairs if _share_of(hands) is share)
        if share is NEVER:
            return left, len(self._hands) - left
        if share is LEAVING:
            return left, self._finished - left
        return left, sum(hands.came_back for hands in self._hands)

    @property
    def _uneven(self) -> float:
        """Whose squares take uneven times is assumed to stop, or to give one up, more often."""
        return min(max((self._paces.within / SQUARE.within) ** 2, 1.0), UNEVEN)

    def _draw_shares(self, random: Random) -> None:
        given_up = sum(hands.given_up for hands in self._hands) + sum(self._drops)
        self._giving_up = GIVING_UP.draw(random, given_up, self._finished, self._uneven)
        self._leaving = LEAVING.draw(random, *self._counts(LEAVING), self._uneven)
        self._stopping = STOPPING.draw(random, *self._counts(STOPPING))

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


def _share_of(hands: Hands) -> Share:
    """That of which somebody tells who is silent, and may have left."""
    if hands.start is None:
        return NEVER
    return STOPPING if hands.let_go else LEAVING
