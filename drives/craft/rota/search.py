"""A good timetable for any case: never worse than the plain rule, better the longer it searches."""

from random import Random

from .exact import soonest
from .rule import by_rule
from .task import Task
from .timetable import FREE, Cost, Timetable, cases, cost, timetable

SMALL = 8  # open jobs up to which the soonest end is proved, if that takes few steps
CASES = 6  # that are looked at beside what is expected
# By so much of its days a timetable must be sooner than that of the rule: what is less is noise,
# and nobody is asked to wait for it.
WORTH_IT = 0.12
MEMORY = 25  # tries after which a try must be better than what stood then


def search(task: Task, steps: int, seed: int) -> Timetable:
    """The best that is found in so many ``steps``; the same for the same ``seed``.

    It begins with the better of the plain rule and the earliest finish of each job by rank
    (HEFT: Topcuoglu, Hariri and Wu, IEEE Trans. Parallel Distrib. Syst. 13, 2002), and goes on by
    late acceptance (Burke and Bykov, The late acceptance hill-climbing heuristic, EJOR 258, 2017).
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
    found = _improved(task, table, lucks, steps, random)
    gained = rule.late - cost(task, found, lucks).late
    return found if gained > WORTH_IT * rule.late else known[0]


def by_rank(task: Task) -> Timetable:
    """The longest chain of days first, each to whoever finishes it first."""
    order = sorted(task.open, key=lambda job: (-task.rank[job], job))
    return timetable(task, order, [FREE] * len(task.jobs))


def _improved(
    task: Task, table: Timetable, lucks: list[list[list[float]]], steps: int, random: Random
) -> Timetable:
    best = now = cost(task, table, lucks)
    found = table
    memory: list[Cost] = [now] * MEMORY
    order, who = list(table.order), list(table.who)
    for step in range(steps):
        changed = _changed(task, order, who, random)
        if changed is None:
            continue
        tried = timetable(task, *changed)
        worth = cost(task, tried, lucks)
        if worth <= now or worth <= memory[step % MEMORY]:
            (order, who), now = changed, worth
            if worth < best:
                best, found = worth, tried
        memory[step % MEMORY] = now
    return found


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
