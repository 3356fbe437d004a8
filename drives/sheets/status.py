"""The status sheet: how far a blanket is, who has what, and what can be begun next."""

from collections.abc import Iterator
from datetime import datetime

from django.template.loader import render_to_string
from django.utils.translation import gettext as _

from drives.drawing import legend, map_svg
from drives.models import Sheet
from drives.models.board import Board, board

from . import parts
from .fit import fits


def drafts(sheet: Sheet, now: datetime) -> Iterator[str]:
    """The sheet as HTML, laid out generously at first and then more and more closely.

    The first draft that needs only one page is to be taken, or else the last. To be read in the
    words and by the clock of the blanket's circle.
    """
    blanket, paper = sheet.blanket, sheet.options["paper"]
    now_there = board(blanket)
    held = [parts.late(now_there, now), parts.in_hand(now_there, now)]
    following = [parts.ready(now_there), *parts.others(now_there)]
    facts = _facts(now_there, now) | {
        "sheet": sheet,
        "now": now,
        "held": held,
        "following": following,
    }
    for fit in fits(now_there.plan.layout, paper, following, held, blanket.name):
        yield render_to_string("sheets/status.html", facts | {"fit": fit})


def _facts(board: Board, now: datetime) -> dict[str, object]:
    late = {claim.square.place for claim in board.late(now)}
    layout = board.plan.layout
    signs = ["waiting", "ready", "taken", "finished"]
    signs += [
        sign
        for sign, shown in (("late", late), ("seam", layout.seams), ("missing", layout.missing))
        if shown
    ]
    return {
        "board": board,
        "squares": len(board.plan.places),
        "map": map_svg(board.plan, board.state_of, title=_title(board), late=late, paper=True),
        "legend": legend(signs, paper=True),
    }


def _title(board: Board) -> str:
    facts = {
        "blanket": board.blanket.name,
        "finished": len(board.finished),
        "taken": len(board.taken),
        "ready": len(board.offers),
    }
    return _("Map of %(blanket)s: %(finished)d finished, %(taken)d taken, %(ready)d ready") % facts
