"""Who takes which square in the next weeks, as JSON."""

from datetime import date, timedelta
from math import floor, inf

from drives.craft.forecast.week import Week
from drives.craft.rota.draws import drawn
from drives.craft.rota.from_situation import task_of
from drives.craft.rota.search import search
from drives.craft.rota.task import Planned, Task
from drives.craft.rota.why import Why, given
from drives.readings.accepted import standing
from drives.readings.board import Board
from drives.readings.outlook import Outlook
from drives.readings.rota import Assigned
from drives.readings.shares import Sharing

from .chances import SEED

WEEKS = 3.0  # that are told
WORK = 2_000_000  # squares tried with each knitter, for some seconds of work
DRAWS = 100  # of a forecast, in which the best few are played where that is quick
LIKELY_GONE = 0.5  # with a greater probability than this nobody is reckoned with


def shared_out(board: Board, known: Outlook, today: date, wanted: float | None) -> list[Assigned]:
    """What is to be begun in the next weeks; ``wanted`` in days from now."""
    week = known.situation.week or Week()
    situation = known.situation.by_knitting()
    gone = {who for who, share in enumerate(known.learned.gone) if share > LIKELY_GONE}
    if len(gone) >= len(situation.knitters):
        return []
    number = {member.pk: who for who, member in enumerate(known.members)}
    barred = {
        place: set(who)
        for place, who in Sharing.on(board, known, situation).strangers(board.plan).items()
    }
    planned = {}
    for line in standing([board.blanket], today).get(board.blanket.pk, ()):
        who = number.get(line.member.pk)
        if who is not None and line.begin is None:
            barred.setdefault(line.place, set()).add(who)
        elif who is not None and line.begin is not None:
            planned[line.place] = Planned(who, week.knitting(max((line.begin - today).days, 0)))
    task, places = task_of(
        situation,
        wanted=None if wanted is None else week.knitting(wanted),
        rest=known.learned.rest,
        limit=board.blanket.drive.claim_limit,
        gone=gone,
        barred=barred,
        planned=planned,
    )
    steps = _steps(task)
    draws = drawn(situation, task, DRAWS, SEED) if steps > DRAWS else []
    table = search(task, steps, SEED, draws)

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
            "accepted": each.why is Why.PLANNED,
        }
        for each in given(task, table, week.knitting(WEEKS * 7))
        if each.end < inf
    ]


def _steps(task: Task) -> int:
    each = max(len(task.open) * len(task.knitters), 1) * 7
    return min(600, max(20, WORK // each))
