"""A good timetable for any case: never worse than the plain rule, better the longer it searches."""

from collections.abc import Sequence
from random import Random

from .exact import soonest
from .rule import by_rule
from .task import Task
from .timetable import FREE, Cost, Timetable, cases, cost, in_time, timetable

Days = Sequence[Sequence[float]]  # by knitter and job

SMALL = 8  # open jobs up to which the soonest end is proved, if that takes few steps
CASES = 6  # that are looked at beside what is expected
# By so much of its days a timetable must be sooner than that of the rule: what is less is noise,
# and nobody is asked to wait for it.
WORTH_IT = 0.12
FEW = 5  # that are played with the draws
SURELY = 0.1  # of the chance to be in time: what is less is noise
MEMORY = 25  # tries after which a try must be better than what stood then


def search(task: Task, steps: int, seed: int, draws: Sequence[Days] = ()) -> Timetable:
    """The best that is found in so many ``steps``; the same for the same ``seed``.

    It begins with the better of the plain rule and the earliest finish of each job by rank
    (HEFT: Topcuoglu, Hariri and Wu, IEEE Trans. Parallel Distrib. Syst. 13, 2002), and goes on by
    late acceptance (Burke and Bykov, The late acceptance hill-climbing heuristic, EJOR 258, 2017).

    Where a day is wanted, the best few are played through ``draws``: days by knitter and job as
    they may come to be. The one that is in time most often is taken. Where nothing is worth more
    than the rule, the fairest of those that are no worse is.
    """
    random = Random(seed)  # noqa: S311 - chance, not secrecy
    known = [by_rule(task), by_rank(task)]
    if not task.open or not task.knitters:
        return known[0]
    if len(task.open) <= SMALL:
        known.append(soonest(task, min(known, key=lambda each: each.last)).table)
    lucks = cases(task, CASES, random)
    rule = cost(task, known[0], lucks)
    table = min(known, key=lambda each: cost(task, each, lucks))
    tried = _Tried(rule)
    tried.add(table, cost(task, table, lucks))
    tried.add(known[0], rule)
    _improve(task, table, lucks, steps, random, tried)
    best = [each for cost, each in tried.best if rule.late - cost.late > WORTH_IT * rule.late]
    if task.wanted is None or not draws:
        return best[0] if best else tried.fairest
    chances = [in_time(task, each, draws) for _, each in tried.best]
    usual = in_time(task, tried.fairest, draws)
    most = max(chances)
    if most >= usual + SURELY:
        return tried.best[chances.index(most)][1]
    # The best come first in both.
    likely = [each for each, chance in zip(best, chances, strict=False) if chance >= usual]
    return likely[0] if likely else tried.fairest


class _Tried:
    """The ``best`` few of all that was tried, and the fairest that is no worse than the rule."""

    def __init__(self, rule: Cost) -> None:
        self.rule = rule
        self.best: list[tuple[Cost, Timetable]] = []
        self._fairest: tuple[float, Timetable] | None = None

    def add(self, table: Timetable, worth: Cost) -> None:
        room = len(self.best) < FEW or worth < self.best[-1][0]
        if room and all(worth != known for known, _ in self.best):
            self.best = sorted([*self.best, (worth, table)], key=lambda each: each[0])[:FEW]
        no_worse = worth.late <= self.rule.late and worth.early <= self.rule.early
        if no_worse and (self._fairest is None or worth.unfair < self._fairest[0]):
            self._fairest = (worth.unfair, table)

    @property
    def fairest(self) -> Timetable:
        assert self._fairest  # the rule is one of them
        return self._fairest[1]


def by_rank(task: Task) -> Timetable:
    """The longest chain of days first, each to whoever finishes it first."""
    order = sorted(task.open, key=lambda job: (-task.rank[job], job))
    return timetable(task, order, [FREE] * len(task.jobs))


def _improve(
    task: Task,
    table: Timetable,
    lucks: Sequence[Days],
    steps: int,
    random: Random,
    tried: _Tried,
) -> None:
    now = cost(task, table, lucks)
    memory: list[Cost] = [now] * MEMORY
    order, who = list(table.order), list(table.who)
    for step in range(steps):
        changed = _changed(task, order, who, random)
        if changed is None:
            continue
        found = timetable(task, *changed)
        worth = cost(task, found, lucks)
        tried.add(found, worth)
        if worth <= now or worth <= memory[step % MEMORY]:
            (order, who), now = changed, worth
        memory[step % MEMORY] = now


def _changed(
    task: Task, order: list[int], who: list[int], random: Random
) -> tuple[list[int], list[int]] | None:
    """One job in other hands, two with hands exchanged, or one at another place in the order."""
    kind = random.random()
    job = random.choice(order)
    if kind < 0.4:
        others = [each for each in task.able[job] if each != who[job]]
        if not others:
            return None
        who = list(who)
        who[job] = random.choice(others)
        return order, who
    if kind < 0.6:
        other = random.choice(order)
        if who[job] == who[other] or who[other] not in task.able[job]:
            return None
        if who[job] not in task.able[other]:
            return None
        who = list(who)
        who[job], who[other] = who[other], who[job]
        return order, who
    at = order.index(job)
    first, last = at, at
    below, above = task.jobs[job].stands_on, task.carries[job]
    while first > 0 and order[first - 1] not in below:
        first -= 1
    while last + 1 < len(order) and order[last + 1] not in above:
        last += 1
    if first == last:
        return None
    order = list(order)
    order.pop(at)
    order.insert(random.randint(first, last), job)
    return order, who
