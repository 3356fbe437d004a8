"""The rows of a square as the trade writes them, and what the abbreviations mean."""

from collections.abc import Iterable
from functools import cache
from typing import NamedTuple

from django.utils.translation import gettext as _

from drives.craft.layout.layout import Mitre
from drives.craft.layout.rows import NeedleMove, Row, RowPart, Side, Stretch, compact, rows


class RowLine(NamedTuple):
    """A row, or rows worked alike, as a card shows it."""

    numbers: str
    side: str  # its abbreviation
    side_name: str
    instruction: str
    stitches: int  # after the last of them


def row_lines(stitches: int, mitre: Mitre) -> tuple[RowLine, ...]:
    """Every row of a square whose side is ``stitches``."""
    every = rows(stitches, mitre)
    sides = {side: _side(side) for side in Side}
    return tuple(
        RowLine(str(row.row), *sides[row.side], instruction, row.stitches)
        for row, instruction in zip(every, instructions(every), strict=True)
    )


def stretch_lines(stitches: int, mitre: Mitre) -> tuple[RowLine, ...]:
    """The same rows with repeats told once."""
    return tuple(
        RowLine(stretch.numbers, *_side(stretch.side), stretch_words(stretch), stretch.stitches)
        for stretch in compact(stitches, mitre)
    )


def instructions(rows: Iterable[Row]) -> list[str]:
    """What to do in each row: ``k18, k2tog, slip marker, ssk, k18``."""
    say = cache(_part)  # rows have the same few parts, and a square has up to 4 000 rows
    return [", ".join(map(say, row.parts)) for row in rows]


def stretch_words(stretch: Stretch) -> str:
    """What to do in each of these rows, and how many stitches fewer there are after each."""
    written = ", ".join(map(_part, stretch.parts))
    if not stretch.fewer:
        return written
    facts = {"row": written, "fewer": stretch.fewer}
    return _("%(row)s (%(fewer)d fewer each time)") % facts


def glossary(mitre: Mitre) -> dict[str, str]:
    """The abbreviations in the rows of a square, in the order in which a reader meets them."""
    words = dict(map(_side, Side)) | {_("k"): _("knit")}
    if mitre is Mitre.PAIRED:
        return words | {
            _("k2tog"): _("knit 2 stitches together"),
            _("ssk"): _(
                "slip 2 stitches knitwise, singly; knit them together through the back loops"
            ),
            _("slip marker"): _("move the marker over to the other needle"),
        }
    return words | {
        _("cdd"): _(
            "centred double decrease: slip 2 stitches together knitwise, knit 1, pass the slipped "
            "stitches over it; the stitch that is left is the marked one"
        )
    }


def _side(side: Side) -> tuple[str, str]:
    """The side's abbreviation and its name."""
    if side is Side.RIGHT:
        return _("RS"), _("right side")
    return _("WS"), _("wrong side")


def _part(part: RowPart) -> str:
    match part.move:
        case NeedleMove.KNIT:
            return _("k%(count)d") % {"count": part.stitches}
        case NeedleMove.KNIT_ALL:
            return _("knit")
        case NeedleMove.KNIT_TO_END:
            return _("knit to the end")
        case NeedleMove.KNIT_TO_MARKER if not part.stitches:
            return _("knit to the marker")
        case NeedleMove.KNIT_TO_MARKER:
            return _("knit to %(count)d before the marker") % {"count": part.stitches}
        case NeedleMove.KNIT_TO_MARKED:
            return _("knit to %(count)d before the marked stitch") % {"count": part.stitches}
        case NeedleMove.K2TOG:
            return _("k2tog")
        case NeedleMove.SSK:
            return _("ssk")
        case NeedleMove.CDD:
            return _("cdd")
        case NeedleMove.SLIP_MARKER:
            return _("slip marker")
        case NeedleMove.REMOVE_MARKER:
            return _("remove marker")
        case NeedleMove.FASTEN_OFF:
            return _("fasten off")
