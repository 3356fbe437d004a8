"""The task of a blanket as it stands, with expected days in place of chance."""

from collections import defaultdict
from collections.abc import Mapping, Set
from math import exp, log
from typing import NamedTuple

from drives.craft.forecast.normal import beyond
from drives.craft.forecast.pace import Days
from drives.craft.forecast.situation import InHand, Situation, Travelling, after, present
from drives.craft.layout.rows import worked
from drives.craft.places import Place

from .task import Begun, Hands, Job, Passing, Task


class Placed(NamedTuple):
    """A task, and the place of each of its jobs; knitters are numbered as in the situation."""

    task: Task
    places: list[Place]


def task_of(situation: Situation, barred: Mapping[Place, Set[int]] | None = None) -> Placed:
    """``barred``: by square, who shall not have it.

    A square takes what is expected of its knitter, and one that is held for longer as long as is
    then to be expected. Where several share a piece, its ways between them are left out.
    """
    plan, mode = situation.plan, situation.mode
    places = [place for place in plan.places if place not in situation.finished]
    number = {place: job for job, place in enumerate(places)}
    one = worked(plan.layout.stitches, plan.layout.mitre)
    units = {
        place: worked(plan.layout.stitches * plan.size[place], plan.layout.mitre) / one
        for place in places
    }
    pieces, holders = _pieces(situation)
    if mode.at_once is None:
        pieces, holders = {}, []
    jobs = [
        Job(
            units[place],
            tuple(number[at] for at in plan.stands_on[place] if at in number),
            tuple(sorted(pieces.get(place, ()))),
            frozenset((barred or {}).get(place, ())),
        )
        for place in places
    ]
    alone = isinstance(mode, Travelling) and mode.at_once == 1
    task = Task(
        jobs,
        [
            Hands(expected(each.pace), each.away, each.pace.spread, each.pace.doubt)
            for each in situation.knitters
        ],
        holders,
        mode.at_once or 1,
        Passing(expected(mode.hand_over), mode.meetings)
        if isinstance(mode, Travelling) and alone
        else None,
        _begun(situation, number, units),
    )
    return Placed(task, places)


def expected(days: Days) -> float:
    """The mean of a lognormal number of days whose median is in doubt itself."""
    return days.median * exp((days.spread**2 + days.doubt**2) / 2)


def _pieces(situation: Situation) -> tuple[dict[Place, set[int]], list[int | None]]:
    """What each unfinished square is worked on, and who has each of these pieces.

    A square that joins two pieces is worked on both, and so is what stands on it.
    """
    plan = situation.plan
    on: dict[Place, set[int]] = {}
    holders: list[int | None] = []
    for fabric in plan.pieces(among=situation.finished):
        on.update({place: {len(holders)} for place in fabric})
        held = [situation.holders[place] for place in fabric if place in situation.holders]
        holders.append(held[0] if held else None)
    for place in plan.places:
        if place not in situation.finished:
            on[place] = set().union(*(on[below] for below in plan.stands_on[place]))
            if not on[place]:
                on[place] = {len(holders)}
                holders.append(None)
    return on, holders


def _begun(
    situation: Situation, number: Mapping[Place, int], units: Mapping[Place, float]
) -> list[Begun]:
    """One after the other, where somebody has several in hand."""
    in_hand: defaultdict[int, list[InHand]] = defaultdict(list)
    for each in sorted(situation.in_hand, key=lambda each: each.begun):
        in_hand[each.knitter].append(each)
    found = []
    for who, squares in in_hand.items():
        pace, away = situation.knitters[who].pace, situation.knitters[who].away
        free = squares[0].begun
        for each in squares:
            begun = max(free, each.begun)
            days = _still(pace, units[each.place], present(begun, 0.0, away))
            free = max(after(begun, days, away), 0.0)
            found.append(Begun(number[each.place], who, free))
    return found


def _still(pace: Days, units: float, done: float) -> float:
    """The days in all of a square of which ``done`` days were not enough: their middle then."""
    spread = (pace.spread**2 + pace.doubt**2) ** 0.5
    usual = expected(pace) * units
    if done <= 0 or not spread:
        return max(usual, done)
    median = pace.median * units
    return max(usual, median * exp(spread * beyond(log(done / median) / spread, 0.0)))
