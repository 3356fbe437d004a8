"""Why somebody is to have a square: the reason that weighs most, as a code with its facts."""

from enum import StrEnum
from typing import NamedTuple

from .task import Task
from .timetable import Timetable

ALIKE = 1.25  # times as many days are not told apart


class Why(StrEnum):
    """The values are codes for pages and the API."""

    PIECE = "piece"  # they have the piece that it is worked on, which others would wait for
    QUICK = "quick"  # nobody takes fewer days
    FREE = "free"  # they are free then
    PLANNED = "planned"  # a coordinator has accepted it so


class Given(NamedTuple):
    """A job for ``who``, from ``begin`` to ``end``; all days are from now.

    ``giver``: who hands a piece over for it; None where nobody does. ``waiting``: the jobs that
    stand on it, on others between them or not.
    """

    job: int
    who: int
    begin: float
    end: float
    giver: int | None
    why: Why
    waiting: int


def given(task: Task, table: Timetable, within: float) -> list[Given]:
    """What is to be begun within so many days, the first first."""
    holder = list(task.holders)
    for begun in task.begun:
        for piece in task.jobs[begun.job].pieces:
            holder[piece] = begun.knitter
    found = []
    for job in sorted(task.open, key=lambda job: (table.begin[job], table.end[job], job)):
        who, pieces = table.who[job], task.jobs[job].pieces
        if table.begin[job] > within:
            break
        givers = {holder[piece] for piece in pieces if task.passing} - {None}
        giver = min((each for each in givers if each is not None and each != who), default=None)
        fewest = min(task.days[each][job] for each in task.able[job])
        quick = fewest * ALIKE
        slower = any(task.days[each][job] > quick for each in task.able[job])
        if job in task.planned:
            why = Why.PLANNED
        elif givers == {who}:
            why = Why.PIECE
        elif slower and task.days[who][job] <= quick:
            why = Why.QUICK
        else:
            why = Why.FREE
        found.append(
            Given(job, who, table.begin[job], table.end[job], giver, why, len(_above(task, job)))
        )
        for piece in pieces:
            holder[piece] = who
    return found


def _above(task: Task, job: int) -> set[int]:
    above, ahead = set[int](), [job]
    while ahead:
        new = set(task.carries[ahead.pop()]) - above
        above |= new
        ahead += new
    return above
