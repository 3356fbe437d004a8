"""Who takes which square in the next weeks, as JSON."""

from datetime import date, timedelta
from math import floor, inf

from drives.craft.forecast.week import Week
from drives.craft.rota.from_situation import task_of
from drives.craft.rota.search import search
from drives.craft.rota.task import Task
from drives.craft.rota.why import given
from drives.readings.outlook import Outlook
from drives.readings.rota import Assigned

from .chances import SEED

WEEKS = 3.0  # that are told
WORK = 2_000_000  # squares tried with each knitter, for some seconds of work
LIKELY_GONE = 0.5  # with a greater probability than this nobody is reckoned with


def shared_out(known: Outlook, today: date, wanted: float | None) -> list[Assigned]:
    """What is to be begun in the next weeks; ``wanted`` in days from now."""
    week = known.situation.week or Week()
    situation = known.situation.by_knitting()
    gone = {who for who, share in enumerate(known.learned.gone) if share > LIKELY_GONE}
    if len(gone) >= len(situation.knitters):
        return []
    task, places = task_of(
        situation,
        wanted=None if wanted is None else week.knitting(wanted),
        rest=known.learned.rest,
        gone=gone,
    )
    table = search(task, _steps(task), SEED)

    def day(moment: float) -> str:
        return (today + timedelta(days=floor(week.day(moment)))).isoformat()

    return [
        {
            "member": known.members[each.who].pk,
            "name": known.members[each.who].name,
            "place": str(places[each.job]),
            "begin": day(each.begin),
            "end": day(each.end),
            "giver": None if each.giver is None else known.members[each.giver].name,
            "why": each.why.value,
            "waiting": each.waiting,
        }
        for each in given(task, table, week.knitting(WEEKS * 7))
        if each.end < inf
    ]


def _steps(task: Task) -> int:
    each = max(len(task.open) * len(task.knitters), 1) * 7
    return min(600, max(20, WORK // each))
