"""The soonest end of all, by branch and bound: for small cases."""

from math import inf
from typing import NamedTuple

from .task import Task
from .timetable import Sharing, Timetable


class Exact(NamedTuple):
    """``proved``: nothing ends sooner. Else the search was given up."""

    table: Timetable
    proved: bool


def soonest(task: Task, known: Timetable, most: int = 20_000) -> Exact:
    """The best timetable, or ``known`` where none ends sooner, in at most so many steps.

    Jobs are given out in the order in which they begin, each as soon as it can: among such
    timetables is always one of the soonest, since moving a job forward harms no other.
    """
    search = _Search(task, known, most)
    search.branch(Sharing(task), task.open, [], 0.0)
    return Exact(search.best, search.steps < most)


class _Search:
    def __init__(self, task: Task, known: Timetable, most: int) -> None:
        self.task, self.best, self.most = task, known, most
        self.last = known.last
        self.steps = 0
        # By job: the days of those that stand on it, in the quickest hands.
        self.beyond = [
            max((task.least[above] for above in carries), default=0.0) for carries in task.carries
        ]

    def branch(self, sharing: Sharing, left: list[int], order: list[int], since: float) -> None:
        if not left:
            table = Timetable(sharing.who, sharing.begin, sharing.end, order)
            if table.last < self.last - 1e-9:
                self.best, self.last = table, table.last
            return
        waits = set(left)
        choices = []
        for job in left:
            if waits.intersection(self.task.jobs[job].stands_on):
                continue
            soonest = inf
            for who in self.task.able[job]:
                start = sharing.start(job, who)
                if start == inf:
                    continue
                end = sharing.done(job, who, start)
                soonest = min(soonest, end)
                if start >= since - 1e-9:
                    choices.append((end + self.beyond[job], start, job, who, end))
            if soonest + self.beyond[job] >= self.last - 1e-9:
                return  # whoever has it and whenever, it is no sooner
        for least, start, job, who, end in sorted(choices):
            if least >= self.last - 1e-9:
                break
            self.steps += 1
            if self.steps >= self.most:
                return
            then = _copy(sharing)
            then.put(job, who, start, end)
            self.branch(then, [each for each in left if each != job], [*order, job], start)


def _copy(sharing: Sharing) -> Sharing:
    other = object.__new__(Sharing)
    other.task, other.days = sharing.task, sharing.days
    other.free, other.had = list(sharing.free), list(sharing.had)
    other.who, other.begin, other.end = list(sharing.who), list(sharing.begin), list(sharing.end)
    other.day, other.kept = sharing.day, sharing.kept
    other.brought = [list(each) for each in sharing.brought]
    other.rooms, other.holder = [list(room) for room in sharing.rooms], list(sharing.holder)
    return other
