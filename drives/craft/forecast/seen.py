"""What a history tells of paces, rests and leaving: a list of what was seen, and how exactly."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import inf
from typing import NamedTuple

from .history import MOMENT, History, Spell, Stretch
from .pace import SHORTEST
from .situation import present


class Between(NamedTuple):
    """A number of days of which it is known that it is more than ``low`` and at most ``high``."""

    low: float
    high: float

    @property
    def exact(self) -> bool:
        return self.high - self.low < 1e-9


class Work(NamedTuple):
    """The days that a square of one unit took; ``nth``: of its knitter's squares, from 0."""

    days: Between
    nth: int


@dataclass
class Hands:
    """One person. ``rests``: from finishing a square to taking the next one.

    ``start``: the days until they first took one. ``silent``: the days since their last square
    in which they took none though they could have; None for who has one in hand. ``let_go``:
    whether that last one was not finished. ``lost``: the chance that somebody who is there would
    have come too late for every square so far. ``free``: when their last square ended.
    """

    works: list[Work] = field(default_factory=list)
    rests: list[Between] = field(default_factory=list)
    start: Between | None = None
    silent: float | None = None
    let_go: bool = False
    lost: float = 1.0
    free: float = 0.0
    finished: int = 0
    given_up: int = 0
    came_back: int = 0  # after giving a square up


def seen(history: History) -> list[Hands]:
    """By person, in the order of ``history.people``."""
    openings = history.openings()
    first = min((spell.taken for spell in history.spells), default=0.0)
    found = [_hands(history, number, openings, first) for number in range(len(history.people))]
    _races(history, found)
    return found


def _hands(history: History, number: int, openings: list[Stretch], first: float) -> Hands:
    person = history.people[number]
    hands = Hands(free=max(min(person.since, 0.0), first))
    last: Spell | None = None
    for spell in sorted(history.of(number), key=lambda each: (each.ended, each.taken)):
        waited = _waited(hands.free, spell.taken, openings, person.away)
        if last and history.kept(last, spell):
            waited = Between(waited.high, waited.high)
        if waited.low == waited.high > 0 and history.met:  # since when, only the meetings know
            waited = Between(waited.high - history.since_meeting(spell.taken), waited.high)
        noted = spell.finished and spell.ended - spell.taken < MOMENT  # only when it was finished
        if last is None:
            hands.start = waited
        elif noted:
            pass
        elif not hands.let_go:
            hands.rests.append(waited)
        else:
            hands.came_back += 1
        begun = max(spell.taken, hands.free) if last else spell.taken
        if spell.open:
            days = present(begun, 0.0, person.away) / spell.units
            hands.works.append(Work(Between(days, inf), hands.finished))
            return hands
        if spell.finished:
            if last and noted:
                begun = hands.free
            days = present(begun, spell.ended, person.away) / spell.units
            if last or not noted:
                days = max(days, SHORTEST)
                least = max(days - history.since_meeting(spell.ended) / spell.units, 0.0)
                hands.works.append(
                    Work(Between(least if history.met else days, days), hands.finished)
                )
            hands.finished += 1
        else:
            hands.given_up += 1
        hands.free, hands.let_go, last = spell.ended, not spell.finished, spell
    hands.silent = _at_least(hands.free, openings, person.away)
    return hands


def _waited(free: float, taken: float, openings: list[Stretch], away: Sequence[Stretch]) -> Between:
    """The days from ``free`` after which somebody would take a square, who took one at ``taken``.

    Who took it as soon as it became ready may have been ready for long. What was ready before,
    and not taken, tells how long they were not.
    """
    high = present(free, taken, away)
    if high < MOMENT:
        return Between(0.0, 0.0)
    before = [(since, until) for since, until in openings if since < taken - MOMENT]
    if before and before[-1][1] >= taken - MOMENT:
        return Between(high, high)
    return Between(min(_at_least(free, before, away), high), high)


def _at_least(free: float, openings: list[Stretch], away: Sequence[Stretch]) -> float:
    """The days from ``free`` in which nothing was taken that could be; -1 where nothing could."""
    if not openings or openings[-1][1] <= free:
        return -1.0
    return present(free, openings[-1][1], away)


def _races(history: History, found: list[Hands]) -> None:
    """Who never took a square, while others took one after the other.

    If they were there, each would have gone to them as likely as to anybody else without one.
    """
    never = [hands for hands in found if hands.start is None]
    hand_in = [0] * len(found)  # squares in each one's hands
    last: dict[int, int] = {}  # who took the last square of each blanket
    events = [(spell.ended, 0, spell) for spell in history.spells if not spell.open]
    events += [(spell.taken, 1, spell) for spell in history.spells]
    for moment, taken, spell in sorted(events, key=lambda event: event[:2]) if never else ():
        who = spell.knitter
        if who < 0:
            continue
        if not taken:
            hand_in[who] -= 1
            continue
        there = sum(
            person.since <= moment and not count
            for person, count in zip(history.people, hand_in, strict=True)
        )
        hand_in[who] += 1
        went_on = spell.blanket in history.travelling and last.get(spell.blanket) == who
        last[spell.blanket] = who
        if there > 1 and not went_on:
            for hands in never:
                hands.lost *= 1 - 1 / there
