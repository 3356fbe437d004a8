"""Made-up circles, played day by day by rules of their own, to hold a forecast against.

Nothing of ``drives.craft.forecast`` is used: what really happens in a world is decided here. A
world yields what a site would see of it: claims with the moments when they were taken and ended.
Times are in days from the day on which its blankets are planned, a Monday.
"""

from collections.abc import Callable
from dataclasses import dataclass, field
from heapq import heappop, heappush
from math import ceil, exp, floor, inf, pi, sin
from random import Random
from typing import NamedTuple

from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import Plan, plan
from drives.craft.places import Place

Draw = Callable[[Random], float]


def nothing(_random: Random) -> float:
    return 0.0


class Told(NamedTuple):
    """One claim; ``ended`` is ``inf`` while it is open, ``finished`` False where it was let go."""

    blanket: int
    place: Place
    member: int
    taken: float
    ended: float
    finished: bool


@dataclass(frozen=True)
class World:
    """``median``: days a square; ``between``, ``within``: sigmas of its logarithm.

    ``pause``: days from finishing to taking. ``idle``: the share of people who never begin.
    ``leaving``: the chance to stop for good after a square; half of them stop within one, which
    lapses after ``lapse`` days. ``elsewhere``: the share of squares that are taken from another
    blanket. ``meetings``: squares are taken and brought every so many days only. ``rate``: of
    knitting at a moment (random phase, moment). ``lesson``: how much longer (logarithm) the first
    square takes, the second half of that, and so on.
    """

    name: str
    columns: int = 6
    rows: int = 6
    people: int = 6
    median: float = 5.0
    between: float = 0.25
    within: float = 0.5
    pause: Draw = nothing
    idle: float = 0.0
    leaving: float = 0.0
    lapse: float = 21.0
    elsewhere: float = 0.0
    meetings: float = 0.0
    rate: Callable[[float, float], float] | None = None
    lesson: float = 0.0
    quickest: float = 1.0  # the first member's days, as a share of what they would be

    def plans(self) -> list[Plan]:
        mine = plan(Layout(self.columns, self.rows, 20))
        return [mine, plan(Layout(12, 12, 20))] if self.elsewhere else [mine]


def weekends(_phase: float, day: float) -> float:
    return 3.2 if day % 7 >= 5 else 0.12


def seasons(phase: float, day: float) -> float:
    """Half as much again in winter as on average, half as much in summer."""
    return 1 + 0.5 * sin(2 * pi * (day / 365 + phase))


@dataclass
class _Board:
    plan: Plan
    unmet: dict[Place, int] = field(init=False)
    ready: set[Place] = field(init=False)
    left: int = field(init=False)

    def __post_init__(self) -> None:
        self.unmet = {place: len(under) for place, under in self.plan.stands_on.items()}
        self.ready = {place for place, count in self.unmet.items() if not count}
        self.left = len(self.unmet)

    def finish(self, place: Place) -> None:
        self.left -= 1
        for above in self.plan.carries[place]:
            self.unmet[above] -= 1
            if not self.unmet[above]:
                self.ready.add(above)

    def best(self) -> Place:
        return max(self.ready, key=lambda place: (self.plan.chain[place], place))


class Played(NamedTuple):
    """All that happened until the first blanket was finished, at ``end``."""

    world: World
    plans: list[Plan]
    claims: list[Told]
    end: float

    def moment(self, share: float) -> float:
        """When so much of the first blanket was finished."""
        ends = sorted(each.ended for each in self.claims if each.finished and not each.blanket)
        return ends[max(round(share * len(ends)), 1) - 1]

    def seen(self, now: float) -> list[Told]:
        """The claims as they stand at ``now``."""
        return [
            each if each.ended <= now else each._replace(ended=inf, finished=False)
            for each in self.claims
            if each.taken <= now
        ]


class _Play:
    """One world on its way: who is free, what lies ready, what will happen when."""

    def __init__(self, world: World, random: Random) -> None:
        self.world, self.random = world, random
        self.phase = random.random()
        self.boards = [_Board(each) for each in world.plans()]
        self.days = [
            world.median * exp(random.gauss(0, world.between)) for _ in range(world.people)
        ]
        self.days[0] *= world.quickest
        # Somebody always knits, or nothing would ever be finished.
        self.free = [who for who in range(world.people) if not who or random.random() >= world.idle]
        self.here = len(self.free)
        self.done = [0] * world.people
        self.claims: list[Told] = []
        self.events: list[tuple[float, int, int]] = []  # a claim ends, or ~who is rested

    def play(self) -> float:
        now = 0.0
        while True:
            self._take(now)
            now = self.events[0][0]
            while self.events and self.events[0][0] == now:  # all put down before any takes
                number = heappop(self.events)[2]
                if number < 0:
                    self.free.append(~number)
                else:
                    self._end(self.claims[number], now)
            if not self.boards[0].left:
                return now

    def _take(self, now: float) -> None:
        self.random.shuffle(self.free)
        while self.free and any(board.ready for board in self.boards):
            which = 1 if self.random.random() < self.world.elsewhere else 0
            board = self.boards[which] if self.boards[which].ready else self.boards[which - 1]
            place = board.best()
            board.ready.remove(place)
            self._claim(self.free.pop(), self.boards.index(board), place, now)

    def _claim(self, who: int, blanket: int, place: Place, now: float) -> None:
        world, random = self.world, self.random
        lesson = world.lesson / (1 + self.done[who])
        end = self._worked(now, self.days[who] * exp(random.gauss(lesson, world.within)))
        if world.meetings:
            end = ceil(end / world.meetings) * world.meetings
        stays = not self._leaves()
        if not stays:
            end = now + world.lapse
        heappush(self.events, (end, len(self.events) + len(self.claims), len(self.claims)))
        self.claims.append(Told(blanket, place, who, now, end, stays))

    def _end(self, claim: Told, now: float) -> None:
        board = self.boards[claim.blanket]
        if not claim.finished:
            board.ready.add(claim.place)
            return
        board.finish(claim.place)
        self.done[claim.member] += 1
        if self._leaves():
            return
        rest = self.world.pause(self.random)
        if rest:
            heappush(self.events, (now + rest, -1, ~claim.member))
        else:
            self.free.append(claim.member)

    def _leaves(self) -> bool:
        """Half of those who leave do so with a square in hand."""
        leaves = self.here > 1 and self.random.random() < self.world.leaving / 2
        self.here -= leaves
        return leaves

    def _worked(self, now: float, days: float) -> float:
        """When ``days`` of knitting that begin ``now`` are done."""
        rate = self.world.rate
        if rate is None:
            return now + days
        while True:
            step = floor(now + 1) - now
            done = step * rate(self.phase, now)
            if done >= days:
                return now + days * step / done
            now, days = now + step, days - done


def played(world: World, seed: int) -> Played:
    """The world until its first blanket is finished; the same seed gives the same."""
    play = _Play(world, Random(f"{world.name}-{seed}"))
    end = play.play()
    return Played(world, [board.plan for board in play.boards], play.claims, end)


def always(days: float) -> Draw:
    return lambda _random: days


def heavy(random: Random) -> float:
    """Mostly at once, now and then for weeks."""
    return 0.0 if random.random() < 0.5 else exp(random.gauss(1.0, 1.0))


# Kinds that the forecast was tried on as it was made …
NAMED = [
    World("own assumptions", between=0.42, within=0.6),
    World("steady", between=0.1, within=0.3),
    World("a day's pause", pause=always(1)),
    World("two days' pause", pause=always(2)),
    World("one in three inactive", idle=1 / 3),
    World("half of the time elsewhere", elsewhere=0.5),
    World("meetings only", meetings=7),
    World("dropping out", leaving=0.08),
    World("seasonal", rate=seasons),
]
# … and others, by which at most the width of its first guesses was chosen.
HELD_OUT = [
    World("weekends", rate=weekends),
    World("one very quick", quickest=0.3),
    World("learners", lesson=0.8),
    World("pauses with a long tail", pause=heavy),
    World("twelve people", 12, 8, people=12, median=7),
    World("three people", 5, 4, people=3, median=3),
    World("slow", median=12, between=0.4),
    World("quick", median=1.5, between=0.4),
]
