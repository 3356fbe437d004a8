"""``./dev bench forecast``: whether what a forecast tells comes true as often as it says.

Made-up circles (``worlds``) are looked at when 10 %, 50 % and 75 % of their blanket are finished.
Of so many worlds of each kind, the true end must lie within the day that is told with 50 % in 40
to 60 %, and within that of 90 % in 84 to 96 %. It is scored beside two plain rules by the
continuous ranked probability score (T. Gneiting and A. E. Raftery, JASA 102, 2007), in days.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import floor
from multiprocessing import Pool
from statistics import fmean
from typing import NamedTuple

from drives.craft.forecast.forecast import forecast
from drives.craft.forecast.gatherings import gatherings
from drives.craft.forecast.history import History, Person, Spell
from drives.craft.forecast.pace import Days
from drives.craft.forecast.situation import InHand, Knitter, Meetings, Situation, Together, Work
from drives.craft.forecast.week import Week, week_of

from .worlds import HELD_OUT, NAMED, Played, World, played

MOMENTS = (0.1, 0.5, 0.75)
ALL = {world.name: world for world in (*NAMED, *HELD_OUT)}


def situation_of(world: Played, now: float) -> Situation:
    """What a site would know of ``world`` on the day of ``now``, the moment of the last event."""
    today = floor(now)
    spells = [
        Spell(
            each.blanket, each.place, each.member, each.taken - today, each.ended - today,
            each.finished, lapses=each.taken + world.world.lapse - today,
        )
        for each in world.seen(now)
    ]  # fmt: skip
    people = [Person(since=-today) for _ in range(world.world.people)]
    works = [
        Work(
            plan,
            Together(),
            frozenset(each.place for each in spells if each.finished and each.blanket == number),
            [
                InHand(each.place, each.knitter, each.taken, each.lapses)
                for each in spells
                if each.open and each.blanket == number
            ],
        )
        for number, plan in enumerate(world.plans)
    ]
    mine, *others = works
    gathered = gatherings(spells)
    moment = now - today
    history = History(
        people, spells, dict(enumerate(world.plans)),
        met=[day + moment for day in gathered.past] if gathered else (),
    )  # fmt: skip
    return Situation(
        mine.plan,
        [Knitter(Days(5.0), person=number) for number in range(len(people))],
        mine.mode, mine.finished, mine.in_hand,
        others=others,
        history=history,
        shares=history.shares(range(len(works))),
        week=Week(start=moment)
        if gathered
        else week_of((each.ended for each in spells if each.finished), moment),
        meets=Meetings(tuple(day + moment for day in gathered.ahead(()))) if gathered else None,
    )  # fmt: skip


def crps(days: Sequence[float], truth: float) -> float:
    """Of the equally likely ``days``, ascending: the integral of (F(x) - [truth ≤ x])²."""
    count, score = len(days), 0.0
    points = sorted([*days, truth])
    below = 0
    for low, high in pairwise(points):
        while below < count and days[below] <= low:
            below += 1
        share = below / count
        score += (high - low) * (share - (truth <= low)) ** 2
    return score


def so_far(world: Played, now: float) -> float:
    """Days per square so far, times the squares that are left."""
    done = sum(each.finished and not each.blanket for each in world.seen(now))
    return now / done * (len(world.plans[0].places) - done)


def last_weeks(world: Played, now: float) -> float:
    """The same by the squares of the last four weeks."""
    claims = [each for each in world.seen(now) if each.finished and not each.blanket]
    recent = [each for each in claims if each.ended > now - 28]
    days = min(now, 28.0)
    left = len(world.plans[0].places) - len(claims)
    return days / max(len(recent), 1) * left


RUNS, WORLDS = 100, 300
HALF, SURE = (0.40, 0.60), (0.84, 0.96)


class Calibrated(NamedTuple):
    """One kind of world at one moment: the shares that came true, and the scores in days."""

    name: str
    half: float
    sure: float
    ours: float
    so_far: float
    last_weeks: float

    def __str__(self) -> str:
        plain = min(self.so_far, self.last_weeks)
        met = _within(self.half, HALF) and _within(self.sure, SURE) and self.ours < plain
        scores = f"{self.ours:8.2f} {self.so_far:8.2f} {self.last_weeks:8.2f}"
        told = f"{self.half:6.0%} {self.sure:6.0%}"
        return f"{self.name:44} {told} {scores}   {'met' if met else 'MISSED'}"


def _within(share: float, goal: tuple[float, float]) -> bool:
    return goal[0] <= share <= goal[1]


def figures() -> Iterator[Calibrated | str]:
    yield f"{'':44} {'50 %':>6} {'90 %':>6} {'ours':>8} {'so far':>8} {'4 weeks':>8}   days (CRPS)"
    with Pool(2) as pool:
        for kind in ALL:
            for share in MOMENTS:
                asked = [(kind, seed, share, RUNS) for seed in range(WORLDS)]
                seen = pool.starmap(look_at, asked, chunksize=10)
                yield summed(f"{kind}, {share:.0%} done", seen)


def summed(name: str, seen: Sequence["Seen"]) -> Calibrated:
    return Calibrated(name, *(fmean(values) for values in zip(*seen, strict=True)))


def look_at(kind: str, seed: int, share: float, runs: int) -> "Seen":
    """By name, so that another process can do it."""
    return look(ALL[kind], seed, share, runs)


class Seen(NamedTuple):
    """How one forecast came out."""

    half: bool
    sure: bool
    ours: float
    so_far: float
    last_weeks: float


def look(world: World, seed: int, share: float, runs: int) -> Seen:
    made = played(world, seed)
    now = made.moment(share)
    told = forecast(situation_of(made, now), runs, seed=seed)
    left, day = made.end - now, floor(made.end) - floor(now)
    return Seen(
        day <= told.day(0.5),
        day <= told.day(0.9),
        crps([each - now + floor(now) for each in told.days], left),
        abs(so_far(made, now) - left),
        abs(last_weeks(made, now) - left),
    )
