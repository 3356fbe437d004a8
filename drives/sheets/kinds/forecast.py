"""A forecast: when the blanket is done, what holds it back, and what would change that."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from datetime import date, timedelta
from itertools import accumulate
from math import ceil, inf
from typing import Any

from django.utils import timezone

from drives.craft.forecast.draws import GIVING_UP, LEAVING, NEVER, REST, STOPPING
from drives.craft.forecast.forecast import Forecast, collected, runs_of
from drives.craft.forecast.pace import SQUARE
from drives.craft.forecast.panels import Proposal, one_more_panel
from drives.craft.forecast.situation import Travelling
from drives.models import Blanket, Square, StoredState
from drives.readings.board import Board
from drives.readings.foretold import (
    Ahead,
    Foretold,
    Ground,
    Habits,
    HeldBack,
    MorePanel,
    Passed,
    SoFar,
)
from drives.readings.outlook import Outlook
from drives.sheets.chances import SEED, counted, dates, times
from drives.sheets.kind import LookAhead
from drives.sheets.passing import one_more, ways

STEPS = 24  # of the picture's days ahead
LEAST_SHARE = 0.01  # causes that hold it back less are not told


def _worked_out(
    board: Board,
    known: Outlook,
    today: date,
    _options: Mapping[str, Any],
    progress: Callable[[int], None],
) -> Foretold:
    """Everything that the page shows. ``today`` is the day from which ``known`` counts."""
    situation, wanted = known.situation, board.blanket.drive.deadline
    number = times(situation)
    runs = counted(runs_of(situation, number, SEED), number, progress, 0, 45)
    forecast = collected(situation, runs)
    finished = len(board.finished) == len(board.plan.places)
    volunteer, panel, passing = None, None, list[Passed]()
    if not finished:
        more = situation.with_volunteer()
        runs = counted(runs_of(more, number, SEED), number, progress, 45, 70)
        volunteer = one_more(forecast, known, collected(more, runs), number, today, wanted)
        passing = ways(forecast, known, number, today, wanted)
        progress(80)
    if not finished and not forecast.never:
        panel = one_more_panel(situation, float(board.blanket.gauge), number, SEED)
    return {
        "today": today.isoformat(),
        "runs": number,
        "finished": len(board.finished),
        "squares": len(board.plan.places),
        "wanted": wanted.isoformat() if wanted else None,
        "never": forecast.never,
        "dates": dates(forecast, today, wanted),
        "held_back": _held_back(forecast, board, known),
        "volunteer": volunteer,
        "passing": passing,
        "panel": _panel(panel, today, wanted) if panel else None,
        "ahead": _ahead(forecast, today, wanted),
        "so_far": _so_far(board.blanket, today),
        "rests_on": _ground(known, today),
    }


def _panel(proposal: Proposal, today: date, wanted: date | None) -> MorePanel:
    return {
        **dates(proposal.forecast, today, wanted),
        "panels": proposal.panels,
        "along": proposal.along.value if proposal.along else None,
        "sewing": round(proposal.sewing, 1),
        "seams": [[str(seam.first), str(seam.second)] for seam in sorted(proposal.seams)],
    }


def _held_back(forecast: Forecast, board: Board, known: Outlook) -> list[HeldBack]:
    names = dict(board.blanket.pieces.live().values_list("pk", "name"))
    found: list[HeldBack] = []
    for (cause, knitter, piece), share in forecast.held_back:
        if share < LEAST_SHARE:
            break
        name = None
        if piece is not None:
            name = names.get(board.piece_of.get(piece, 0), str(piece))
        found.append(
            {
                "cause": cause.value,
                "member": None if knitter is None else known.members[knitter].name,
                "away": knitter is not None and bool(known.situation.knitters[knitter].away),
                "piece": name,
                "share": round(share, 3),
            }
        )
    return found


def _ahead(forecast: Forecast, today: date, wanted: date | None) -> list[Ahead]:
    """From today to beyond the last date that is told; nothing where it is never."""
    last = forecast.within(0.9)
    if last == inf or not forecast.left:
        return []
    until = max(last, (wanted - today).days + 1 if wanted else 0.0)
    step = max(1, ceil(until / STEPS))
    days = range(0, ceil(until) + step, step)
    bands = forecast.progress([0.0, *(number + 1.0 for number in days[1:])])
    return [
        {
            "day": (today + timedelta(days=number)).isoformat(),
            "low": band.low,
            "middle": band.middle,
            "high": band.high,
        }
        for number, band in zip(days, bands, strict=True)
    ]


def _so_far(blanket: Blanket, today: date) -> list[SoFar]:
    """From the day it was planned: each day on which squares were finished that still are."""
    moments = Square.objects.filter(blanket=blanket, state=StoredState.FINISHED)
    days = Counter(
        timezone.localdate(moment) for moment in moments.values_list("finished_at", flat=True)
    )
    begun = min([timezone.localdate(blanket.created_at), today, *days])
    days[begun] += 0
    days[today] += 0
    ordered = sorted(days)
    sums: Sequence[int] = list(accumulate(days[each] for each in ordered))
    return [
        {"day": each.isoformat(), "finished": count}
        for each, count in zip(ordered, sums, strict=True)
    ]


def _ground(known: Outlook, today: date) -> Ground:
    situation = known.situation
    travelling = situation.mode if isinstance(situation.mode, Travelling) else None
    middle = situation.median_pace if situation.knitters else SQUARE.median
    return {
        "squares": known.observed,
        "hand_overs": known.hand_overs,
        "days_a_square": round(middle, 1),
        "days_a_hand_over": round(travelling.hand_over.median, 1) if travelling else None,
        "weight": SQUARE.weight,
        "habits": _habits(known, today),
    }


def _habits(known: Outlook, today: date) -> Habits:
    situation, learned = known.situation, known.learned
    week = None
    if situation.week and not situation.meets:
        rates = situation.week.rates
        week = [round(rates[(day - today.weekday()) % 7] / 7, 3) for day in range(7)]
    return {
        "rest": round(learned.rest, 1),
        "rests": learned.rests,
        "people": len(known.members),
        "gone": round(sum(learned.gone), 1),
        "leaving": round(learned.leaving, 3),
        "giving_up": round(learned.giving_up, 3),
        "first": round(learned.first, 2),
        "week": week,
        "others": len(situation.others),
        "assumed": {
            "square": SQUARE.median,
            "rest": round(REST.mean, 1),
            "gone": NEVER.mean,
            "people": NEVER.weight,
            "leaving": LEAVING.mean,
            "giving_up": GIVING_UP.mean,
            "stopping": STOPPING.mean,
            "squares": LEAVING.weight,
        },
    }


FORECAST = LookAhead(code="forecast", work_out=_worked_out)
