"""The status sheet: how far a blanket is, who has what, and what can be begun next."""

from collections.abc import Iterator, Set
from datetime import datetime

from django.template.loader import render_to_string
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drives.craft.places import Place
from drives.drawing import legend, map_svg
from drives.models import Options, Sheet
from drives.readings.board import Board, board_of
from drives.readings.checks import cautions_of
from drives.readings.looks import looks_on
from drives.sheets import lists
from drives.sheets.fit import LARGE_MAP, MAP, fits, stretches
from drives.sheets.kind import Document, Part, minded_and_drawn
from drives.words.cautions import caution_words
from drives.words.map import MEANINGS, SIGNS


def _drafts(sheet: Sheet, now: datetime) -> Part:
    """On as few pages as its lists and its map can be read on."""
    blanket, options = sheet.blanket, sheet.chosen
    board = board_of(blanket)
    ready = [lists.ready(board)]
    others = [lists.late(board, now), lists.in_hand(board, now), *lists.others(board)]
    facts = _facts(board, now, options) | {
        "sheet": sheet,
        "cautions": caution_words(*cautions_of(blanket.drive)),
        "options": options,
        "now": now,
        "ready": ready,
        "others": others,
    }
    layout, large = board.plan.layout, options.large
    for fit in fits(layout, options.paper, ready, others, blanket.name, large=large):
        yield render_to_string("sheets/status.html", facts | {"fit": fit})


def _facts(board: Board, now: datetime, options: Options) -> dict[str, object]:
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
        "maps": list(_maps(board, late, options)),
        "legend": [
            # In a tagged PDF every picture has words of its own.
            (sign.svg.replace(">", f"><title>{SIGNS[sign.key]}</title>", 1), MEANINGS[sign.key])
            for sign in legend(signs, paper=True)
        ],
    }


def _maps(board: Board, late: Set[Place], options: Options) -> Iterator[tuple[str, str]]:
    """The map in as many parts as are needed to read its names, each with words above it."""
    title, layout = _title(board), board.plan.layout
    colours = looks_on(board) if options.in_colour else {}
    most = LARGE_MAP if options.large else MAP
    parts = [
        (Place(columns[0], rows[0]), Place(columns[-1], rows[-1]))
        for rows in reversed(stretches(layout.rows, most[1]))
        for columns in stretches(layout.columns, most[0])
    ]
    for number, part in enumerate(parts):
        words = _("From %(first)s to %(last)s") % {"first": part[0], "last": part[1]}
        drawn = map_svg(
            board.plan,
            board.state_of,
            title=f"{title}. {words}" if len(parts) > 1 else title,
            late=late,
            colours=colours,
            paper=True,
            part=part,
            prefix=f"map-{number}",
        )
        yield drawn, words if len(parts) > 1 else ""


def _title(board: Board) -> str:
    facts = {
        "blanket": board.blanket.name,
        "finished": len(board.finished),
        "taken": len(board.taken),
        "ready": len(board.offers),
    }
    return _("Map of %(blanket)s: %(finished)d finished, %(taken)d taken, %(ready)d ready") % facts


STATUS = Document(
    code="status",
    label=gettext_lazy("status sheet"),
    purpose=gettext_lazy(
        "For the wall: the map, who has what, what comes next, and room to write."
    ),
    facts=minded_and_drawn,
    parts=lambda sheet, now: [_drafts(sheet, now)],
)
