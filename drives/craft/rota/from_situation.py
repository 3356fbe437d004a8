"""The task of a blanket as it stands, with expected days in place of chance."""

from collections.abc import Mapping, Sequence, Set
from math import exp, log
from typing import NamedTuple

from drives.craft.forecast.normal import beyond
from drives.craft.forecast.pace import Days
from drives.craft.forecast.situation import Situation, Travelling, after, present
from drives.craft.layout.rows import worked
from drives.craft.places import Place

from .task import Begun, Hands, Job, Passing, Planned, Task

NOBODY: Set[int] = frozenset()
ANYBODY: Mapping[Place, Set[int]] = {}
UNPLANNED: Mapping[Place, Planned] = {}


class Placed(NamedTuple):
    """A task, and the place of each of its jobs; knitters are numbered as in the situation."""

    task: Task
    places: list[Place]


def task_of(
    situation: Situation,
    *,
    wanted: float | None = None,
    rest: float = 0.0,
    limit: int = 1,
    gone: Set[int] = NOBODY,
    barred: Mapping[Place, Set[int]] = ANYBODY,
    planned: Mapping[Place, Planned] = UNPLANNED,
) -> Placed:
    """``gone``: who is to get nothing that is not ``planned`` for them. ``barred``: by square.

    ``rest``: days from one square to the next. ``limit``: squares in one's hands at once.

    A square takes what is expected of its knitter, and one that is held for longer as long as is
    then to be expected. Where pieces are kept by whoever has them, nobody else gets what is worked
    on them, unless they are gone or away now. Where several share a piece, its ways between them
    are left out.
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
    people = set(range(len(situation.knitters)))
    keepers = _keepers(situation, pieces, holders)
    jobs = [
        Job(
            units[place],
            tuple(number[at] for at in plan.stands_on[place] if at in number),
            tuple(sorted(pieces.get(place, ()))),
            _barred(people - gone, barred.get(place, NOBODY), keepers.get(place, NOBODY), people),
        )
        for place in places
    ]
    begun, free = _begun(situation, units)
    alone = isinstance(mode, Travelling) and mode.at_once == 1
    task = Task(
        jobs,
        [
            Hands(
                expected(each.pace), each.away, each.pace.spread, each.pace.doubt, free[who], rest
            )
            for who, each in enumerate(situation.knitters)
        ],
        holders,
        mode.at_once or 1,
        Passing(expected(mode.hand_over), mode.meetings)
        if isinstance(mode, Travelling) and alone
        else None,
        [Begun(number[place], who, ends) for place, who, ends in begun],
        wanted,
        {
            number[place]: each
            for place, each in planned.items()
            if place in number and place not in situation.begun
        },
        situation.meets,
        limit,
    )
    return Placed(task, places)


def _barred(
    there: Set[int], barred: Set[int], keepers: Set[int], people: Set[int]
) -> frozenset[int]:
    """Who shall not have a square; of those that are ``there`` somebody always may."""
    able = there - barred or there
    return frozenset(people - (able & keepers or able))


def _keepers(
    situation: Situation, pieces: Mapping[Place, Set[int]], holders: Sequence[int | None]
) -> dict[Place, set[int]]:
    """Who has the pieces of a square, where they do not pass them on."""
    mode = situation.mode
    if not isinstance(mode, Travelling) or mode.turn or mode.meetings:
        return {}
    here = {
        who
        for who, each in enumerate(situation.knitters)
        if not any(leaves <= 0 < returns for leaves, returns in each.away)
    }
    return {
        place: {who for piece in on if (who := holders[piece]) is not None} & here
        for place, on in pieces.items()
    }


def expected(days: Days) -> float:
    """The mean of a lognormal number of days, if its median is as good as known.

    The doubt about it has so heavy a tail that with it, somebody of whom nothing is known would be
    given weeks for each square.
    """
    return days.median * exp(days.spread**2 / 2)


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
    situation: Situation, units: Mapping[Place, float]
) -> tuple[list[tuple[Place, int, float]], list[float]]:
    """What is in hand of the blanket, by whom and until when; and when everybody is free of others.

    One after the other, where somebody has several. A square of another blanket counts as one unit.
    """
    squares = [(each, True) for each in situation.in_hand]
    squares += [(each, False) for work in situation.others for each in work.in_hand]
    begun: list[tuple[Place, int, float]] = []
    free, until = [0.0] * len(situation.knitters), dict[int, float]()
    for each, mine in sorted(squares, key=lambda pair: pair[0].begun):
        pace, away = situation.knitters[each.knitter].pace, situation.knitters[each.knitter].away
        start = max(until.get(each.knitter, each.begun), each.begun)
        still = _still(pace, units[each.place] if mine else 1.0, present(start, 0.0, away))
        ends = until[each.knitter] = max(after(start, still, away), 0.0)
        if mine:
            begun.append((each.place, each.knitter, ends))
        else:
            free[each.knitter] = max(free[each.knitter], ends)
    return begun, free


def _still(pace: Days, units: float, done: float) -> float:
    """The days in all of a square of which ``done`` days were not enough: their middle then."""
    spread = (pace.spread**2 + pace.doubt**2) ** 0.5
    usual = expected(pace) * units
    if done <= 0 or not spread:
        return max(usual, done)
    median = pace.median * units
    return max(usual, median * exp(spread * beyond(log(done / median) / spread, 0.0)))
