"""The plain rule: whoever is free takes the square with the longest chain still to come."""

from collections.abc import Set
from math import inf

from .task import Task
from .timetable import Sharing, Timetable


def by_rule(task: Task) -> Timetable:
    """As ``drives.craft.layout.spread`` suggests it, again whenever something is finished.

    The longest chain first, then what frees most. Of those who are free, somebody who has the
    piece, else the first of them. Nobody waits who could begin something.
    """
    sharing, left, order = Sharing(task), set(task.open), list[int]()
    moments = {0.0, *sharing.free, *sharing.day.values()}
    moments |= {each.ends for each in task.begun}
    moments |= {returns for hands in task.knitters for _, returns in hands.away if returns > 0}
    placed = {each.job for each in task.begun}
    while left and moments:
        now = min(moments)
        moments.discard(now)
        if now == inf:
            break
        ready = [
            job
            for job in left
            if all(at in placed and sharing.end[at] <= now for at in task.jobs[job].stands_on)
        ]
        finished = {job for job in placed if sharing.end[job] <= now}
        frees = {job: _frees(task, job, finished) for job in ready}
        for job in sorted(ready, key=lambda job: (-task.chain[job], -frees[job], job)):
            pieces = task.jobs[job].pieces
            if any(sharing.rooms[piece][0] > now for piece in pieces):
                continue
            able = [
                who
                for who in task.able[job]
                if sharing.free[who] <= now
                and not any(leaves <= now < back for leaves, back in task.knitters[who].away)
                and (sharing.day[job] <= now if job in sharing.day else True)
                and sharing.beside(job, who, now) == now
            ]
            if not able:
                continue
            who = min(
                able,
                key=lambda who: (-sum(sharing.holder[piece] == who for piece in pieces), who),
            )
            start = sharing.start(job, who)
            if start == inf:
                continue
            end = sharing.done(job, who, start)
            sharing.put(job, who, start, end)
            moments |= {end, sharing.free[who]}
            left.discard(job)
            placed.add(job)
            order.append(job)
    for job in sorted(left):  # those who could are away for good
        sharing.begin[job] = sharing.end[job] = inf
        order.append(job)
    return Timetable(sharing.who, sharing.begin, sharing.end, order)


def _frees(task: Task, job: int, finished: Set[int]) -> int:
    """How many jobs wait for this one alone."""
    rest = {*finished, job}
    return sum(rest.issuperset(task.jobs[above].stands_on) for above in task.carries[job])
