"""The gift record: one page, to be folded and laid in with the blanket, for its receiver."""

from datetime import datetime
from typing import NamedTuple

from django.template.loader import render_to_string
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from drives.drawing import portrait_svg
from drives.models import Blanket, Paper, Sheet
from drives.readings.board import board_of
from drives.readings.looks import looks_on
from drives.sheets.fit import MM
from drives.sheets.gift_facts import gift_facts, told_of_gift
from drives.sheets.kind import Document, Part, yarn_drawn
from shared.basics.lists import listed

PICTURE = (96, 92)  # mm, the most that the picture takes

# Points, and the share of that for the picture; from the most generous on. In large print a
# second page is better than small type.
TEXT_SIZES = ((13, 1.0), (12, 1.0), (11, 0.85), (10, 0.7), (9, 0.6), (8, 0.5))
LARGE_TEXT_SIZES = ((18, 1.0), (16, 0.9), (14, 0.7))


class Makers(NamedTuple):
    """How many have knitted it, and the names of those who agreed."""

    number: str
    names: str = ""


def _drafts(sheet: Sheet, now: datetime) -> Part:
    """The front is the right half of a page that lies across, the back the left one."""
    blanket, options = sheet.blanket, sheet.chosen
    board = board_of(blanket)
    facts = {
        "sheet": sheet,
        "options": options,
        "drive": blanket.drive,
        "told": gift_facts(blanket),
        "makers": _makers(blanket),
        "picture": portrait_svg(
            board.plan,
            title=_("Drawing of %(blanket)s") % {"blanket": blanket},
            colours=looks_on(board),
        ),
        "frame": MM[Paper(options.paper)][0] - 24,
    }
    layout = board.plan.layout
    unit = min(PICTURE[0] / layout.columns, PICTURE[1] / layout.rows, 24)
    for points, share in LARGE_TEXT_SIZES if options.large else TEXT_SIZES:
        width, height = layout.columns * unit * share, layout.rows * unit * share
        drawn = {"points": points, "width": width, "height": height}
        yield render_to_string("sheets/gift.html", facts | drawn)


def _makers(blanket: Blanket) -> Makers:
    circle = blanket.drive.circle
    makers = circle.members.filter(knitted__blanket=blanket).distinct().order_by("name", "pk")
    named = [maker.name for maker in makers if maker.may_be_named]
    facts = {"number": len(makers), "circle": circle, "names": listed(named)}
    if not makers:
        return Makers(_("Knitted by %(circle)s.") % facts)
    words = ngettext(
        "Knitted by %(number)d person of %(circle)s.",
        "Knitted by %(number)d people of %(circle)s.",
        len(makers),
    )
    among = _("Among them: %(names)s.") if len(named) < len(makers) else "%(names)s."
    return Makers(words % facts, among % facts if named else "")


GIFT = Document(
    code="gift",
    label=gettext_lazy("gift record"),
    purpose=gettext_lazy("For who receives it: its size, its fibres, how to care for it."),
    facts=lambda asked: [*told_of_gift(asked), *yarn_drawn(asked)],
    parts=lambda sheet, now: [_drafts(sheet, now)],
    style="gift.css",
    told_on="drives:gift",
)
