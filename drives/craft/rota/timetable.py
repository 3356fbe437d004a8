"""From an order of jobs, and who has which, to when each is begun and finished."""

from collections.abc import Sequence
from math import exp, inf
from random import Random
from statistics import fmean
from typing import NamedTuple

from drives.craft.forecast.history import MOMENT
from drives.craft.forecast.situation import Meetings, after, present

from .task import Task

WEIGHT = 5.0  # of a day beyond the wanted one
FREE = -1  # of a job: whoever finishes it first


class Timetable(NamedTuple):
    """By job; ``order``: the open jobs as they were given out. ``end`` is inf for never."""

    who: list[int]
    begin: list[float]
    end: list[float]
    order: list[int]

    @property
    def last(self) -> float:
        """When all is finished."""
        return max(self.end, default=0.0)


class Kept(NamedTuple):
    """Days that are kept for a planned ``job``."""

    begins: float
    ends: float
    job: int


class Sharing:
    """Who is free when, and where the pieces are, while jobs are given out one after the other."""

    def __init__(self, task: Task, days: Sequence[Sequence[float]] | None = None) -> None:
        """``days``: by knitter and job, where they are other than expected."""
        self.task = task
        self.days = days or task.days
        jobs = len(task.jobs)
        self.free = [each.free for each in task.knitters]
        self.had = [0] * len(task.knitters)
        self.who = [FREE] * jobs
        self.begin = [0.0] * jobs
        self.end = [0.0] * jobs
        self.rooms = [[0.0] * task.room for _ in task.holders]
        self.holder = list(task.holders)
        # When what is in somebody's hands is brought, where it is only when all meet.
        self.brought: list[list[float]] = [[] for _ in task.knitters]
        self.day: dict[int, float] = {}  # by planned job
        self.kept: list[list[Kept]] = [[] for _ in task.knitters]
        for job, who, ends in task.begun:
            self.put(job, who, 0.0, ends)
        for job, (who, day) in sorted(task.planned.items(), key=lambda each: (each[1].day, each)):
            free = max((each.ends for each in self.kept[who]), default=self.free[who])
            begin = self.day[job] = self._here(who, max(day, free))
            ends = self.done(job, who, begin) + task.knitters[who].rest
            self.kept[who].append(Kept(begin, ends, job))

    def start(self, job: int, who: int) -> float:
        """When ``who`` can begin it at the earliest."""
        task, day = self.task, self.day.get(job)
        start = self.free[who] if day is None else day
        _, stands_on, pieces, _ = task.jobs[job]
        for support in stands_on:
            if self.end[support] > start:
                start = self.end[support]
        if task.meets:
            start = self._taken(task.meets, job, who, start)
        for piece in pieces:
            there, holder = self.rooms[piece][0], self.holder[piece]
            if task.passing and holder is not None and holder != who:
                there = task.passing.there(there)
            if there > start:
                start = there
        if day is not None and start > day:  # too late for the days that are kept for it
            start = max(start, self.free[who])
        start = self._here(who, start)
        return self.beside(job, who, start) if self.kept[who] and start != day else start

    def beside(self, job: int, who: int, start: float) -> float:
        """When ``who`` has time for all of it from ``start`` on, beside what is planned."""
        rest = self.task.knitters[who].rest
        for begins, ends, planned in self.kept[who]:
            if planned != job and start < ends and self.done(job, who, start) + rest > begins:
                start = self._here(who, ends)
        return start

    def _here(self, who: int, start: float) -> float:
        for leaves, returns in self.task.knitters[who].away:
            if leaves <= start < returns:
                start = returns
        return start

    def _taken(self, meets: Meetings, job: int, who: int, start: float) -> float:
        """``start``, or later: when all have met, what it stands on was brought, and there is room.

        Within the limit a square is taken ahead, at a meeting before the last one is finished.
        """
        taken, held = 0.0, sorted(self.brought[who])
        for support in self.task.jobs[job].stands_on:
            taken = max(taken, _noted(meets, self.end[support]))
        if len(held) >= self.task.limit:
            taken = max(taken, held[-self.task.limit])
        return max(start, _noted(meets, taken))

    def done(self, job: int, who: int, start: float) -> float:
        days, away = self.days[who][job], self.task.knitters[who].away
        return after(start, days, away) if away else start + days

    def put(self, job: int, who: int, begin: float, end: float) -> None:
        self.who[job], self.begin[job], self.end[job] = who, begin, end
        if begin != self.day.get(job):  # before the days that are kept for it there may be time
            self.free[who] = max(self.free[who], end + self.task.knitters[who].rest)
        if self.task.meets:
            self.brought[who].append(_noted(self.task.meets, end))
        self.had[who] += 1
        for piece in self.task.jobs[job].pieces:
            room = self.rooms[piece]
            room[0] = end
            if len(room) > 1:
                room.sort()
            self.holder[piece] = who

    def quickest(self, job: int) -> tuple[int, float, float]:
        """Who finishes it first, of several who do the one with the fewest: who, begin, end."""
        best = (inf, 0, FREE, inf)
        for who in self.task.able[job]:
            start = self.start(job, who)
            end = self.done(job, who, start) if start < inf else inf
            best = min(best, (end, self.had[who], who, start))
        end, _, who, start = best
        return who, start, end


def _noted(meets: Meetings, moment: float) -> float:
    """The meeting at that moment, or the next one."""
    return meets.after(moment - MOMENT) if moment < inf else moment


def timetable(
    task: Task,
    order: Sequence[int],
    who: Sequence[int],
    days: Sequence[Sequence[float]] | None = None,
) -> Timetable:
    """Each job of ``order`` begins as soon as it can, behind those before it.

    ``order`` holds every open job, behind what it stands on; ``who``: by job, or ``FREE``.
    """
    sharing = Sharing(task, days)
    for job in order:
        if who[job] == FREE:
            knitter, start, end = sharing.quickest(job)
            if knitter == FREE:
                sharing.begin[job] = sharing.end[job] = inf
                continue
        else:
            knitter = who[job]
            start = sharing.start(job, knitter)
            end = sharing.done(job, knitter, start) if start < inf else inf
        sharing.put(job, knitter, start, end)
    return Timetable(sharing.who, sharing.begin, sharing.end, list(order))


def waiting(task: Task, table: Timetable) -> list[float]:
    """By knitter: the days that they are there, until all is finished, and do not knit."""
    if table.last == inf:
        return [inf] * len(task.knitters)
    busy, in_hand = [0.0] * len(task.knitters), [each.free for each in task.knitters]
    for job in task.open:
        busy[table.who[job]] += task.days[table.who[job]][job]
    for begun in task.begun:
        in_hand[begun.knitter] = max(in_hand[begun.knitter], begun.ends)
    return [
        max(present(in_hand[who], table.last, hands.away) - busy[who], 0.0)
        for who, hands in enumerate(task.knitters)
    ]


def lopsided(task: Task, table: Timetable) -> float:
    """How unfair the waiting is: the longest of one person over that of all on average.

    1 where all wait alike, and as many as there are people where one gets all of it.
    """
    days = [days for who, days in enumerate(waiting(task, table)) if who in task.hands]
    mean = fmean(days) if days else 0.0
    return max(days) / mean if 0 < mean < inf else 1.0


class Cost(NamedTuple):
    """The less the better, the first first.

    ``late``: when all is finished, on average over what may happen; what is beyond the wanted day
    several times, and the days by which what is planned is begun later. ``early``: when a square is
    finished, on average over all squares. ``unfair``: the sum of the squares of everybody's days of
    waiting, which is least where nobody gets all of it.
    """

    late: float
    early: float
    unfair: float


def cost(task: Task, table: Timetable, lucks: Sequence[Sequence[Sequence[float]]] = ()) -> Cost:
    """``lucks``: the days by knitter and job of each case that is looked at beside the expected."""
    tables = [table, *(timetable(task, table.order, table.who, days) for days in lucks)]
    late = fmean(_late(task, each) for each in tables)
    early = fmean(fmean(each.end) for each in tables) if table.end else 0.0
    days = waiting(task, table)
    unfair = sum(days[who] ** 2 for who in task.hands)
    return Cost(round(late, 3), round(early, 1), round(unfair, 3))


def in_time(task: Task, table: Timetable, lucks: Sequence[Sequence[Sequence[float]]]) -> float:
    """The share of these cases in which all is finished by the wanted day."""
    assert task.wanted is not None
    ends = [timetable(task, table.order, table.who, days).last for days in lucks]
    return sum(end <= task.wanted for end in ends) / len(ends)


def _late(task: Task, table: Timetable) -> float:
    beyond = 0.0 if task.wanted is None else max(table.last - task.wanted, 0.0)
    kept = sum(max(table.begin[job] - each.day, 0.0) for job, each in task.planned.items())
    return table.last + WEIGHT * beyond + kept


def cases(task: Task, count: int, random: Random) -> list[list[list[float]]]:
    """Days by knitter and job as they may come to be; their mean is what is expected."""
    found = []
    for _ in range(count):
        luck = [random.gauss(0, 1) for _ in task.jobs]
        times = [exp(each.doubt * random.gauss(0, 1) - each.doubt**2 / 2) for each in task.knitters]
        found.append(
            [
                [
                    days * each * exp(hands.spread * normal - hands.spread**2 / 2)
                    for days, normal in zip(row, luck, strict=True)
                ]
                for row, hands, each in zip(task.days, task.knitters, times, strict=True)
            ]
        )
    return found
