"""The rota: who begins what by when, so that the wanted day holds."""

from collections.abc import Callable, Iterator, Mapping
from datetime import date, datetime, time, timedelta
from functools import cache
from math import floor, inf
from typing import Any

from django.utils import timezone

from drives.craft.forecast.enough import suffice, with_knitters
from drives.craft.forecast.forecast import Never, runs_of
from drives.craft.forecast.latest import Latest, latest
from drives.craft.forecast.run import Run
from drives.craft.forecast.situation import Situation
from drives.models import Blanket, Square, StoredState
from drives.readings.board import Board
from drives.readings.outlook import Outlook
from drives.readings.rota import KIND, Enough, Rota, Speed, Start
from drives.sheets.chances import SEED, counted, times
from drives.sheets.kind import LookAhead
from drives.sheets.sharing import shared_out

MOST_KNITTERS = 60
SHARE = 8  # with another number of knitters it is played so many times less often
RECENT = 28  # days that tell how quick the circle is now


def _worked_out(
    board: Board,
    known: Outlook,
    today: date,
    _options: Mapping[str, Any],
    progress: Callable[[int], None],
) -> Rota:
    """``today`` is the day from which ``known`` counts."""
    situation, wanted = known.situation, board.blanket.drive.deadline
    left, people = len(board.plan.places) - len(board.finished), len(situation.knitters)
    told: Rota = {
        "today": today.isoformat(),
        "runs": 0,
        "finished": len(board.finished),
        "squares": len(board.plan.places),
        "wanted": wanted.isoformat() if wanted else None,
        "never": None if people else Never.NO_KNITTERS,
        "kept": None,
        "speed": None,
        "enough": None,
        "starts": [],
        "assigned": [],
        "fallen": [],
    }
    # It holds when all is done by the end of that day.
    days = None if wanted is None else float((wanted - today).days + 1)
    if left:
        told["assigned"] = shared_out(board, known, today, days)
    if days is None or not left:
        return told
    told["speed"] = _speed(board.blanket, today, left, days)
    number = times(situation)
    told["enough"] = _enough(situation, days, number // SHARE)
    progress(50)
    if people:
        ends: list[float] = []
        runs = counted(runs_of(situation, number, SEED), number, progress, 50, 95)
        found = latest(_noted(runs, ends), days)
        told["runs"], told["starts"] = number, [_start(each, today) for each in found]
        told["kept"] = sum(end <= days for end in ends) / number
        told["never"] = Never.ALL_AWAY if min(ends) == inf else None
    return told


def _noted(runs: Iterator[Run], ends: list[float]) -> Iterator[Run]:
    for run in runs:
        ends.append(run.end)
        yield run


def _enough(situation: Situation, days: float, number: int) -> Enough:
    @cache
    def kept(people: int) -> float:
        runs = runs_of(with_knitters(situation, people, SEED), number, SEED)
        return sum(run.end <= days for run in runs) / number

    least = max(len({each.knitter for each in situation.in_hand}), 1)
    half = suffice(kept, 0.5, least, MOST_KNITTERS)
    sure = None if half is None else suffice(kept, 0.9, half, MOST_KNITTERS)
    return {
        "now": len(situation.knitters),
        "half": half,
        "sure": sure,
        "most": MOST_KNITTERS,
    }


def _speed(blanket: Blanket, today: date, left: int, days: float) -> Speed:
    begun = timezone.localdate(blanket.created_at)
    first = max(today - timedelta(days=RECENT), min(begun, today - timedelta(days=7)))
    since = datetime.combine(first, time.min, timezone.get_current_timezone())
    finished = Square.objects.filter(
        blanket=blanket, state=StoredState.FINISHED, finished_at__gte=since
    )
    weeks = (today - first).days / 7
    return {
        "needed": round(left / days * 7, 2) if days > 0 else None,
        "now": round(finished.count() / weeks, 2),
        "weeks": round(weeks, 1),
    }


def _start(found: Latest, today: date) -> Start:
    return {
        "place": str(found.place),
        "expected": _day(today, found.expected),
        "half": _day(today, found.half),
        "sure": _day(today, found.sure),
        "slack": floor(found.slack) if abs(found.slack) < inf else None,
    }


def _day(today: date, days: float) -> str | None:
    """The day in which the moment lies; it may be over. None for never, and beyond all dates."""
    if not (date.min - today).days <= days <= (date.max - today).days:
        return None
    return (today + timedelta(days=floor(days))).isoformat()


# Minutes for the largest blankets whose pieces travel: no label of another circle waits for that.
ROTA = LookAhead(code=KIND, work_out=_worked_out, in_batch=True)
