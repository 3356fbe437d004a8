"""How long each square may take whom, by what a forecast draws of a circle."""

from itertools import islice
from math import exp
from random import Random

from drives.craft.forecast.draws import draws
from drives.craft.forecast.situation import Situation

from .task import Task


def drawn(situation: Situation, task: Task, count: int, seed: int) -> list[list[list[float]]]:
    """Days by knitter and job in so many draws; none where nothing was learned.

    Only paces and luck: who leaves or gives a square up calls for another rota, and not for this.
    """
    random = Random(seed)  # noqa: S311 - chance, not secrecy
    if situation.history is None:
        return []
    found = []
    for draw in islice(draws(situation.history, random), count):
        luck = [exp(draw.paces.within * random.gauss(0, 1)) for _ in task.jobs]
        rows = []
        for each in situation.knitters:
            days = each.pace.median
            if each.person is not None and not each.supposed:
                lesson = exp(draw.paces.lesson / (1 + draw.done[each.person]))
                days = draw.paces.median[each.person] * lesson
            rows.append([days * job.units * lot for job, lot in zip(task.jobs, luck, strict=True)])
        found.append(rows)
    return found
