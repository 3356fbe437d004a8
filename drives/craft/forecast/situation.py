"""A blanket as it stands, with its people and the way its pieces move: what a forecast needs.

All times are in days from now; the past is negative.
"""

from bisect import bisect_right
from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass, field, replace
from functools import cached_property
from math import floor, inf
from statistics import median
from typing import NamedTuple, Self

from drives.craft.layout.plan import Plan
from drives.craft.places import Place

from .history import History
from .pace import SQUARE, Days
from .week import Week, stretches

_GUESS = Days(SQUARE.median, SQUARE.within, SQUARE.apart)


class Knitter(NamedTuple):
    """``pace``: for a square of one unit. ``away``: stretches in order in which nothing is knitted.

    Away for good is a stretch that ends at ``inf``. ``person``: an index of the history, None for
    somebody whom it does not know. ``supposed``: the pace is not to be learned from it.
    """

    pace: Days
    away: tuple[tuple[float, float], ...] = ()
    person: int | None = None
    supposed: bool = False


class InHand(NamedTuple):
    """A square that ``knitter`` (an index) has taken, and when it was, or will be, begun.

    In the future where its piece is still on its way. Of several squares in the same hands one is
    worked at a time; the others are kept for that knitter. ``lapses``: when it is taken back.
    """

    place: Place
    knitter: int
    begun: float = 0.0
    lapses: float = inf


class Meetings(NamedTuple):
    """The ``days`` of meetings that are known, ascending; at least one."""

    days: tuple[float, ...]

    def by(self, week: Week) -> "Meetings":
        return Meetings(tuple(map(week.knitting, self.days)))

    def after(self, now: float) -> float:
        """The first meeting after ``now``.

        After the last one known they go on as far apart as those are on average, and four weeks
        apart where only one is known.
        """
        index = bisect_right(self.days, now)
        if index < len(self.days):
            return self.days[index]
        first, last, gaps = self.days[0], self.days[-1], len(self.days) - 1
        every = (last - first) / gaps if gaps else 28.0
        return last + every * (floor((now - last) / every + 1e-9) + 1)


@dataclass(frozen=True)
class Together:
    """Pieces live with the circle: ``at_once`` people, or any number, work on one at a time."""

    at_once: int | None = None

    def by(self, week: Week) -> "Together":
        return self


@dataclass(frozen=True)
class Travelling:
    """Pieces pass from hand to hand, in ``hand_over`` days or, where there are some, at meetings.

    A square is worked by somebody who has all its pieces in hand. ``at_once``: more than one
    where several may share a piece. ``turn``: after so many squares a piece goes to somebody who
    would otherwise have nothing to do; None where people keep what they have. At meetings only
    what nobody works on changes hands, so that there a turn means nothing.
    """

    hand_over: Days
    meetings: Meetings | None = None
    at_once: int = 1
    turn: int | None = None

    def by(self, week: Week) -> "Travelling":
        return replace(self, meetings=self.meetings and self.meetings.by(week))


@dataclass(frozen=True)
class Work:
    """A blanket as it stands.

    ``holders``: who (an index) has the piece of a finished square; one square a piece will do.
    Raises ValueError for what cannot be: nobody at once, a square in hand that is finished or
    stands on something unfinished.
    """

    plan: Plan
    mode: Together | Travelling
    finished: Set[Place] = frozenset()
    in_hand: Sequence[InHand] = ()
    holders: Mapping[Place, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        if self.mode.at_once is not None and self.mode.at_once < 1:
            raise ValueError("at-once", self.mode.at_once)
        for square in self.in_hand:
            place = square.place
            if place in self.finished or not self.finished >= set(self.plan.stands_on[place]):
                raise ValueError("in-hand", place)

    def by(self, week: Week) -> "Work":
        return replace(self, mode=self.mode.by(week), in_hand=_in_hand(self.in_hand, week))

    def held_by(self, number: Mapping[int, int]) -> "Work":
        """The same with new numbers for people; what those without one had is free."""
        return replace(
            self,
            in_hand=[
                each._replace(knitter=number[each.knitter])
                for each in self.in_hand
                if each.knitter in number
            ],
            holders={place: number[who] for place, who in self.holders.items() if who in number},
        )


def _in_hand(in_hand: Sequence[InHand], week: Week) -> list[InHand]:
    return [
        each._replace(begun=week.knitting(each.begun), lapses=week.knitting(each.lapses))
        for each in in_hand
    ]


@dataclass(frozen=True)
class Situation:
    """A blanket (see ``Work``) with its ``knitters``, and ``others`` that wait for the same hands.

    ``history``: what is to be learned from; without one people are as their paces say, and take
    the next square at once. ``shares``: how often people choose each blanket, the first first.
    ``week``: on which days they knit; alike on all where it is None. ``meets``: when they meet,
    where squares are only taken and brought then.
    """

    plan: Plan
    knitters: Sequence[Knitter]
    mode: Together | Travelling
    finished: Set[Place] = frozenset()
    in_hand: Sequence[InHand] = ()
    holders: Mapping[Place, int] = field(default_factory=dict)
    others: Sequence[Work] = ()
    history: History | None = None
    shares: Sequence[float] = ()
    week: Week | None = None
    meets: Meetings | None = None

    def __post_init__(self) -> None:
        assert self.works

    @cached_property
    def works(self) -> tuple[Work, ...]:
        """The blanket first, then the others."""
        mine = Work(self.plan, self.mode, self.finished, self.in_hand, self.holders)
        return (mine, *self.others)

    def by_knitting(self) -> Self:
        """The same in days of knitting, in which runs are played."""
        if (week := self.week) is None:
            return self
        return replace(
            self,
            knitters=[
                each._replace(away=stretches(week, each.away)) if each.away else each
                for each in self.knitters
            ],
            mode=self.mode.by(week),
            in_hand=_in_hand(self.in_hand, week),
            others=[work.by(week) for work in self.others],
            history=self.history and self.history.by(week),
            meets=self.meets and self.meets.by(week),
            week=None,
        )

    @property
    def begun(self) -> Set[Place]:
        return {*self.finished, *(square.place for square in self.in_hand)}

    @property
    def median_pace(self) -> float:
        """Days for a square of one unit in the hands of the knitter in the middle."""
        return median(knitter.pace.median for knitter in self.knitters)

    def with_volunteer(self) -> Self:
        """The same with one more knitter, as quick and as steady as the one in the middle."""
        paces = sorted(knitter.pace for knitter in self.knitters) or [_GUESS]
        return replace(self, knitters=[*self.knitters, Knitter(paces[len(paces) // 2])])


def after(start: float, days: float, away: Sequence[tuple[float, float]]) -> float:
    """When ``days`` of work that begin at ``start`` are done, with pauses while ``away``."""
    for leaves, returns in away:
        if start + days <= leaves:
            break
        if start < returns:
            days -= max(leaves - start, 0.0)
            start = returns
    return start + days


def present(start: float, end: float, away: Sequence[tuple[float, float]]) -> float:
    """The days from ``start`` to ``end`` without those ``away``; 0 where they are the wrong way."""
    gone = sum(max(0.0, min(returns, end) - max(leaves, start)) for leaves, returns in away)
    return max(end - start, 0.0) - gone
