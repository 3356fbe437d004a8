"""Who takes which square: ours against the plain rule, in ten worlds played with the same luck.

The rule is what the site suggests without a rota (``drives.craft.layout.spread``): whoever is free
takes the best square that is ready. Ours is searched for anew whenever somebody is free. Both know
what everybody needs on average; how long each square takes then is chance, the same for both.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from heapq import heappop, heappush
from math import exp, inf
from random import Random
from statistics import fmean, stdev
from typing import NamedTuple

from drives.craft.forecast.pace import Days
from drives.craft.forecast.situation import (
    InHand,
    Knitter,
    Meetings,
    Situation,
    Together,
    Travelling,
    after,
)
from drives.craft.layout.layout import Large, Layout, Seam
from drives.craft.layout.plan import Plan, plan
from drives.craft.layout.rows import worked
from drives.craft.layout.spread import spread
from drives.craft.layout.states import offers
from drives.craft.places import Place
from drives.craft.rota.from_situation import task_of
from drives.craft.rota.search import search

from .figures import Figure

PLAYS = 200
STEPS = 12  # of the search, each time; the page takes more

Takes = list[tuple[int, Place]]  # who takes what now
Policy = Callable[[Situation], Takes]


class World(NamedTuple):
    name: str
    plan: Plan
    knitters: list[Knitter]
    mode: Together | Travelling
    noise: float = 0.35  # sigma of the logarithm of a square's days


def _people(*days: float, away: dict[int, tuple[float, float]] | None = None) -> list[Knitter]:
    stretches = away or {}
    return [
        Knitter(Days(each, 0.35), (stretches[who],) if who in stretches else ())
        for who, each in enumerate(days)
    ]


def _cut(columns: int, rows: int, *lines: int) -> Plan:
    seams = frozenset(
        Seam(Place(line, row), Place(line + 1, row)) for line in lines for row in range(1, rows + 1)
    )
    return plan(Layout(columns, rows, 20, seams=seams))


def worlds() -> list[World]:
    four, five, six = (plan(Layout(side, side, 20)) for side in (4, 5, 6))
    mixed = (2, 4, 6, 10)
    post = Days(4, 0.4)
    large = frozenset({Large(Place(2, 2), 2), Large(Place(4, 4), 2)})
    return [
        World("four who knit alike", six, _people(4, 4, 4, 4), Together()),
        World("quick and slow", six, _people(*mixed), Together()),
        World("one very quick", six, _people(1.5, 7, 7, 7, 7), Together()),
        World(
            "away in turn", six, _people(3, 4, 5, 6, away={0: (8, 29), 2: (20, 34)}), Together()
        ),
        World("ten hands, few squares", five, _people(*mixed, *mixed, 5, 7), Together()),
        World("two around the blanket", five, _people(*mixed), Together(2)),
        World("panels at home", _cut(6, 5, 2, 4), _people(3, 4, 6, 9), Travelling(post, turn=1)),
        World("one piece by post", four, _people(3, 5, 8), Travelling(post, turn=1)),
        World(
            "panels, and meetings", _cut(6, 4, 2, 4), _people(3, 4, 6, 9),
            Travelling(post, Meetings((7.0, 21.0)), turn=1),
        ),
        World("large squares", plan(Layout(6, 6, 20, large=large)), _people(*mixed), Together()),
    ]  # fmt: skip


def by_rule(situation: Situation) -> Takes:
    """What is suggested to those who have nothing in hand."""
    planned, mode = situation.plan, situation.mode
    taken = {each.place for each in situation.in_hand}
    busy = {each.knitter for each in situation.in_hand}
    room = {
        who: 1
        for who, knitter in enumerate(situation.knitters)
        if who not in busy and not any(first <= 0 < last for first, last in knitter.away)
    }
    fabric = {
        place: number
        for number, piece in enumerate(planned.pieces(among=situation.finished))
        for place in piece
    }
    under = {
        place: {fabric[at] for at in planned.stands_on[place] if at in fabric}
        for place in planned.places
    }
    at_work: dict[int, set[int]] = {number: set() for number in fabric.values()}
    for each in situation.in_hand:
        for piece in under[each.place]:
            at_work[piece].add(each.knitter)
    given = spread(
        [offer.place for offer in offers(planned, finished=situation.finished, taken=taken)],
        room,
        pieces=under,
        at_work=at_work,
        most=mode.at_once,
        holders={fabric[place]: who for place, who in situation.holders.items()},
    )
    return [(who, place) for who, places in given.items() for place in places]


def by_rota(situation: Situation) -> Takes:
    """What the rota has first for each, where nothing is in its way; see ``task_of``."""
    task, places = task_of(situation)
    table = search(task, STEPS, seed=1)
    held: dict[int, int] = {}
    for begun in task.begun:
        held[begun.knitter] = held.get(begun.knitter, 0) + 1
    in_use = {piece for begun in task.begun for piece in task.jobs[begun.job].pieces}
    first: dict[int, int] = {}
    waiting = set(task.open)
    takes, people, claimed = [], set[int](), dict[int, int]()
    for job in sorted(task.open, key=lambda job: table.begin[job]):
        who, pieces = table.who[job], task.jobs[job].pieces
        mine = who not in people
        people.add(who)
        next_on_all = all(first.setdefault(piece, job) == job for piece in pieces)
        for piece in pieces:
            claimed[piece] = claimed.get(piece, 0) + 1
        if not mine or waiting.intersection(task.jobs[job].stands_on):
            continue
        if any(begun.job in task.jobs[job].stands_on for begun in task.begun):
            continue
        away = any(leaves <= 0 < back for leaves, back in task.knitters[who].away)
        moves = task.passing and any(task.holders[piece] not in (None, who) for piece in pieces)
        if held.get(who, 0) == 0 and not away:
            free = task.room > 1 or (next_on_all and not in_use.intersection(pieces))
            if (
                free
                and table.begin[job]
                <= (task.passing.there(0.0) if moves and task.passing else 0.0) + 1e-6
            ):
                takes.append((who, places[job]))
        elif moves and held.get(who, 0) == 1 and next_on_all and not in_use.intersection(pieces):
            takes.append((who, places[job]))
    return takes


@dataclass
class Held:
    place: Place
    begun: float
    ends: float


def play(world: World, policy: Policy, seed: int) -> float:
    """The day on which the last square is finished."""
    luck, planned = Random(f"{seed}"), world.plan
    one = worked(planned.layout.stitches, planned.layout.mitre)
    normal = {place: luck.gauss(0, 1) for place in sorted(planned.places)}
    way = {place: luck.gauss(0, 1) for place in sorted(planned.places)}
    finished, holder = set[Place](), dict[Place, int]()
    hands: list[list[Held]] = [[] for _ in world.knitters]
    moments = [0.0]
    for knitter in world.knitters:
        for stretch in knitter.away:
            for moment in stretch:
                heappush(moments, moment)
    mode, now = world.mode, 0.0
    travels = isinstance(mode, Travelling)
    while moments:
        now = heappop(moments)
        for who, held in enumerate(hands):
            while held and held[0].ends <= now:
                square = held.pop(0)
                finished.add(square.place)
                for fabric in planned.pieces(among=finished):
                    if square.place in fabric:
                        holder.update(dict.fromkeys(fabric, who))
        if len(finished) == len(planned.places):
            return now
        for who, place in policy(_seen(world, finished, hands, holder, now)):
            arrives = now
            below = {at: holder[at] for at in planned.stands_on[place] if at in holder}
            if isinstance(mode, Travelling) and any(each != who for each in below.values()):
                arrives = now + mode.hand_over.median * exp(mode.hand_over.spread * way[place])
                if mode.meetings:
                    arrives = mode.meetings.after(now)
            for fabric in planned.pieces(among=finished):
                if travels and fabric & below.keys():
                    holder.update(dict.fromkeys(fabric, who))
            begun = max([arrives, now, *(each.ends for each in hands[who])])
            units = (
                worked(planned.layout.stitches * planned.size[place], planned.layout.mitre) / one
            )
            days = world.knitters[who].pace.median * units * exp(world.noise * normal[place])
            ends = after(begun, days, world.knitters[who].away)
            hands[who].append(Held(place, begun, ends))
            heappush(moments, ends)
    return inf


def _seen(
    world: World,
    finished: set[Place],
    hands: list[list[Held]],
    holder: dict[Place, int],
    now: float,
) -> Situation:
    """The world as the policies see it: days count from ``now``."""
    mode = world.mode
    if isinstance(mode, Travelling) and mode.meetings:
        days = [mode.meetings.after(now)]
        days.append(mode.meetings.after(days[0]))
        mode = Travelling(
            mode.hand_over, Meetings((days[0] - now, days[1] - now)), mode.at_once, mode.turn
        )
    return Situation(
        world.plan,
        [
            each._replace(away=tuple((a - now, b - now) for a, b in each.away if b > now))
            for each in world.knitters
        ],
        mode,
        frozenset(finished),
        [
            InHand(each.place, who, each.begun - now)
            for who, held in enumerate(hands)
            for each in held
        ],
        dict(holder) if isinstance(mode, Travelling) else {},
    )


class Compared(NamedTuple):
    """Mean last days; ``surely``: how many standard errors the paired difference is from 0.

    ``in_time``: ours, of the day that the rule keeps in half of the plays.
    """

    ours: float
    rule: float
    surely: float
    in_time: float


def compared(world: World, plays: int = PLAYS) -> Compared:
    pairs = [(play(world, by_rota, seed), play(world, by_rule, seed)) for seed in range(plays)]
    gains = [rule - ours for ours, rule in pairs]
    half = sorted(rule for _, rule in pairs)[plays // 2 - 1]
    return Compared(
        fmean(ours for ours, _ in pairs),
        fmean(rule for _, rule in pairs),
        fmean(gains) / max(stdev(gains) / plays**0.5, 1e-9),
        sum(ours <= half for ours, _ in pairs) / plays,
    )


def figures() -> Iterator[Figure]:
    better = 0
    for world in worlds():
        found = compared(world)
        better += found.surely > 3
        yield Figure(
            f"{world.name}: mean last day / the rule's",
            f"{found.ours:.1f} d",
            f"{found.rule:.1f} d",
            found.ours / found.rule,
            1.005,
            at_least=False,
        )
        yield Figure(
            f"{world.name}: in time / the rule's half", f"{found.in_time:.0%}", "50%",
            found.in_time / 0.5, 0.98, at_least=True,
        )  # fmt: skip
    yield Figure(
        "worlds in which ours is sooner beyond chance (of ten)", f"{better}", "6",
        better / 6, 1.0, at_least=True,
    )  # fmt: skip
