"""Proposals for panels, for the people and the days that the organiser names."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from drives.craft.forecast.enough import with_people
from drives.craft.forecast.pace import HAND_OVER, hand_over
from drives.craft.forecast.panels import proposals
from drives.craft.forecast.situation import Meetings, Situation, Travelling
from drives.craft.layout.plan import Plan
from drives.models import Blanket, Drive, Mode
from drives.readings.board import Board
from drives.readings.foretold import Panels, Proposed
from drives.readings.gauges import usual_gauges
from drives.readings.outlook import Outlook, outlook
from drives.readings.shares import Sharing
from drives.sheets.chances import SEED, by_steps, dates, day, times
from drives.sheets.kind import LookAhead

MOST_VOLUNTEERS = 60
SUPPOSED = ("wanted", "volunteers", "pace", "hand_over_days", "meeting", "every")
MOVING = SUPPOSED[3:]  # what matters only where pieces travel
SHARE = 4  # a proposal is played so many times less often than a forecast


def _proposals(
    board: Board,
    known: Outlook,
    today: date,
    options: Mapping[str, Any],
    progress: Callable[[int], None],
) -> Panels:
    """``options``: as ``as_options`` makes them."""
    situation = supposed(known.situation, options, today)
    wanted = date.fromisoformat(options["wanted"]) if options["wanted"] else None
    number = max(times(situation) // SHARE, 50)
    found = proposals(
        situation,
        float(board.blanket.gauge),
        number,
        SEED,
        progress=by_steps(progress, 95),
    )
    sharing = Sharing.on(board, known, situation)
    told: list[Proposed] = [
        {
            **dates(each.forecast, today, wanted),
            "early": day(today, each.forecast.within(0.1)),
            "panels": each.panels,
            "along": each.along.value if each.along else None,
            "bent": each.bent,
            "seams": [[str(seam.first), str(seam.second)] for seam in sorted(each.seams)],
            "sewing": round(each.sewing, 1),
            "hand_overs": round(each.hand_overs, 1),
            "squares": round(each.squares, 1) if situation.knitters else 0.0,
            "days": round(each.days, 1) if situation.knitters else 0.0,
            "unbeaten": each.unbeaten,
            "shares": sharing.of(each.forecast.situation.plan),
        }
        for each in found
    ]
    return {
        "today": today.isoformat(),
        "runs": number,
        "wanted": options["wanted"],
        "never": found[0].forecast.never,
        "proposals": told,
    }


def of_plan(
    drive: Drive, whole: Plan, gauge: float, volunteers: int, now: datetime
) -> tuple[Situation, Sharing]:
    """Who would knit a blanket of the ``drive`` that is only planned, and how its panels fall to
    them: by everybody's usual pace and gauge.
    """
    layout = whole.layout
    blanket = Blanket(
        drive=drive, stitches=layout.stitches, mitre=layout.mitre.value, gauge=str(gauge)
    )
    known = outlook(Board(blanket, whole, frozenset(), frozenset(), {}, {}, {}), now)
    situation = with_volunteers(known.situation, volunteers)
    return situation, Sharing(known.members, situation, usual_gauges(known.members, gauge), {})


def as_options(blanket: Blanket, told: Mapping[str, Any]) -> dict[str, Any]:
    """What was ``told`` of ``SUPPOSED``, as the sheet keeps it."""
    options = dict.fromkeys(SUPPOSED) | dict(told)
    if blanket.drive.mode != Mode.TRAVELLING:
        options |= dict.fromkeys(MOVING)
    if options["meeting"] and not options["every"]:
        options["every"] = 28
    for name, value in options.items():
        if isinstance(value, date):
            options[name] = value.isoformat()
        elif isinstance(value, Decimal):
            options[name] = float(value)
    return options


def supposed(situation: Situation, options: Mapping[str, Any], today: date) -> Situation:
    """``situation`` with so many volunteers of that pace, and pieces that move at those days.

    Whoever has a square in hand stays, however few the volunteers are to be.
    """
    situation = with_volunteers(situation, options["volunteers"])
    if options["pace"]:
        situation = replace(
            situation,
            knitters=[
                each._replace(
                    pace=each.pace._replace(median=options["pace"], doubt=0.0), supposed=True
                )
                for each in situation.knitters
            ],
        )
    if isinstance(situation.mode, Travelling):
        situation = replace(situation, mode=_moving(situation.mode, options, today))
    return situation


def with_volunteers(situation: Situation, volunteers: int) -> Situation:
    """So many, or as many more as have a square in hand.

    First whoever has nothing in hand goes, the last to come; who comes is as the one in the middle.
    """
    people = range(len(situation.knitters))
    busy = {square.knitter for square in situation.in_hand}
    stay = sorted(people, key=lambda who: (who not in busy, who))
    count = max(volunteers, len(busy))
    return with_people(situation, sorted(stay[:count]), count)


def _moving(mode: Travelling, options: Mapping[str, Any], today: date) -> Travelling:
    """As the drive passes pieces on, unless something is told."""
    days, first, every = options["hand_over_days"], options["meeting"], options["every"]
    if first:
        next_one = max((date.fromisoformat(first) - today).days, 0)
        return replace(mode, meetings=Meetings((float(next_one), float(next_one + every))))
    if days:
        days = hand_over((), HAND_OVER._replace(median=float(days)))
        return replace(mode, hand_over=days, meetings=None)
    return mode


# A minute and more for the largest blankets: no label of another circle is to wait for that.
PANELS = LookAhead(code="panels", work_out=_proposals, in_batch=True)
