"""The finishing list: all that is done between the last square and the gift."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import NamedTuple

from django.template.loader import render_to_string
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from drives.actions.paper.kind import Asked
from drives.craft.layout.finishing import ends, markers, sewn
from drives.models import Sheet, Yarn
from drives.readings.board import Board, board_of
from drives.readings.checks import drive_checks
from drives.sheets.gift_facts import GiftFacts, gift_facts, told_of_gift
from drives.sheets.kind import Document, Part


class Job(NamedTuple):
    """One thing to do: what is known of it in sentences, and what to write down, with a line."""

    heading: str
    lines: Sequence[str]
    blanks: Sequence[str] = ()


def _drafts(sheet: Sheet, now: datetime) -> Part:
    """On one page, if it can be."""
    options, board = sheet.chosen, board_of(sheet.blanket)
    told = gift_facts(sheet.blanket)
    facts = {
        "sheet": sheet,
        "options": options,
        "now": now,
        "drive": sheet.blanket.drive,
        "done": len(board.finished),
        "squares": len(board.plan.places),
        "jobs": list(_jobs(board, told)),
        "checks": drive_checks(sheet.blanket.drive, blanket=sheet.blanket),
        "cautions": told.cautions,
    }
    # What needs a second page all the same need not be small.
    for points in (16, 14, 16) if options.large else (12, 11, 10, 9.5, 11):
        yield render_to_string("sheets/finishing.html", facts | {"points": points})


def _jobs(board: Board, told: GiftFacts) -> Iterator[Job]:
    if seams := sewn(board.plan.layout):
        yield Job(_("Seams sewn"), [_seams(seams)])
    yield Job(_("Ends woven in"), [_ends(board)], [_("ends still found")])
    yield Job(_("Markers and pins counted out"), [_markers(board)], [_("given out"), _("back")])
    yield Job(
        _("Looked through for holes"),
        [
            _(
                "Hold it against the light. Nothing may catch a finger or a tube: "
                "no hole, no loose loop, no long float."
            )
            if told.for_babies
            else _("Hold it against the light: dropped stitches, open corners, loose loops.")
        ],
        [_("squares mended")],
    )
    yield _measured(board, told)
    yield Job(
        _("Washed and dried"),
        told.care,
        [_("washed on")] if told.care else [_("the yarn’s band says"), _("washed on")],
    )
    yield Job(_("Fibres stated"), [told.fibres] if told.fibres else [], _fibre_blanks(told))
    yield Job(
        _("Free of smoke and pet hair"), [_("Ask those who had it at home; if in doubt, air it.")]
    )
    yield Job(_("Gift record laid in"), [], [_("packed on")])


def _seams(count: int) -> str:
    return ngettext(
        "%(count)d edge of one square’s length is a seam: the map has a zigzag there.",
        "%(count)d edges, each of one square’s length, are seams: the map has a zigzag there.",
        count,
    ) % {"count": count}


def _ends(board: Board) -> str:
    count = len(board.plan.places)
    return ngettext(
        "At least %(ends)d, where its yarn begins and where it ends.",
        "At least %(ends)d, two for each of the %(count)d squares; sewing and borders make more.",
        count,
    ) % {"ends": ends(board.plan), "count": count}


def _markers(board: Board) -> str:
    words = _(
        "At most %(markers)d markers were in use, one to a square. "
        "As many must come back as were given out, and every pin."
    )
    return words % {"markers": markers(board.plan)}


def _measured(board: Board, told: GiftFacts) -> Job:
    """Against the plan; without a border, which nobody has told us of."""
    lines = [_("Planned: %(size)s, without a border.") % {"size": told.planned}]
    if told.measured:
        lines.append(_("Measured: %(size)s.") % {"size": told.measured})
        return Job(_("Measured"), lines)
    return Job(_("Measured"), lines, [_("width"), _("height")])


def _fibre_blanks(told: GiftFacts) -> list[str]:
    return [] if told.fibres else [_("fibres, from the bands; unknown if unknown")]


def _against_rules(asked: Asked) -> list[object]:
    """Facts: what else conflicts with the rules are made of: yarns, and words against them."""
    drive = asked.blanket.drive
    yarns = Yarn.objects.filter(circle=drive.circle_id).order_by("pk")
    known = yarns.values_list("pk", "colour", "value", "dye_lot", "fibres", "care", "fast")
    overruled = drive.overrulings.values_list("pk", "by__name")
    return [*told_of_gift(asked), list(known), list(overruled)]


FINISHING = Document(
    code="finishing",
    label=gettext_lazy("finishing list"),
    purpose=gettext_lazy(
        "What is done when all squares are: ends, markers, washing, measuring, signatures."
    ),
    facts=_against_rules,
    parts=lambda sheet, now: [_drafts(sheet, now)],
    style="finishing.css",
)
