"""The rows of one square, from the foundation to the last stitch."""

from enum import StrEnum
from typing import NamedTuple

from .layout import Mitre


class Side(StrEnum):
    """The side that faces the knitter."""

    RIGHT = "RS"
    WRONG = "WS"


class NeedleMove(StrEnum):
    """What is done with the needles."""

    KNIT = "knit"  # so many
    KNIT_ALL = "knit-all"
    KNIT_TO_END = "knit-to-end"
    KNIT_TO_MARKER = "knit-to-marker"  # to so many before it
    KNIT_TO_MARKED = "knit-to-marked"  # to so many before the marked stitch
    K2TOG = "k2tog"
    SSK = "ssk"
    CDD = "cdd"
    SLIP_MARKER = "slip-marker"
    REMOVE_MARKER = "remove-marker"
    FASTEN_OFF = "fasten-off"


class RowPart(NamedTuple):
    """One part of a row: a move, and how many stitches it says."""

    move: NeedleMove
    stitches: int = 0


class Row(NamedTuple):
    """One row: what to do, and the stitches on the needle afterwards."""

    row: int
    side: Side
    parts: tuple[RowPart, ...]
    stitches: int


class Stretch(NamedTuple):
    """Rows ``first``, ``first + 2``, … ``last``, worked alike; the compact form for paper."""

    first: int
    last: int
    side: Side
    parts: tuple[RowPart, ...]
    stitches: int  # after the last of them
    fewer: int = 0  # stitches after each of them than before it

    @property
    def numbers(self) -> str:
        """The rows' numbers as one writes them: ``1``, ``2, 4`` or ``2, 4 … 38``."""
        if self.first == self.last:
            return str(self.first)
        second = self.first + 2
        end = f" … {self.last}" if self.last > second else ""
        return f"{self.first}, {second}{end}"


def rows(stitches: int, mitre: Mitre) -> tuple[Row, ...]:
    """Every row of a square whose side is ``stitches``. TRADE.md, section 2.

    Row 1 is the first row after the foundation (WS); the marker hangs there since then. The rows
    are the same for both hands: who works left-handed works them from the other end of the same
    foundation.
    """
    found = []
    for row in range(1, rows_of(stitches)):
        each = stitches - row // 2  # on either side of the mitre, after this row
        side, parts = (
            (Side.WRONG, _plain(each, mitre)) if row % 2 else (Side.RIGHT, _decrease(each, mitre))
        )
        found.append(Row(row, side, parts, 2 * each + (mitre is Mitre.CENTRED)))
    found.append(Row(rows_of(stitches), Side.RIGHT, _LAST[mitre], 1))
    return tuple(found)


def compact(stitches: int, mitre: Mitre) -> tuple[Stretch, ...]:
    """The same rows with repeats told once."""
    every = rows(stitches, mitre)
    before_last = every[-2]
    if mitre is Mitre.PAIRED:
        decrease = (RowPart(NeedleMove.KNIT_TO_MARKER, 2), *_DECREASE[mitre], _TO_END)
        plain: tuple[RowPart, ...] = (RowPart(NeedleMove.KNIT_TO_MARKER), _SLIP, _TO_END)
    else:
        decrease = (RowPart(NeedleMove.KNIT_TO_MARKED, 1), *_DECREASE[mitre], _TO_END)
        plain = (RowPart(NeedleMove.KNIT_ALL),)
    left = before_last.stitches
    return (
        Stretch(1, 1, Side.WRONG, every[0].parts, every[0].stitches),
        Stretch(2, 2 * stitches - 2, Side.RIGHT, decrease, left, fewer=2),
        Stretch(3, 2 * stitches - 1, Side.WRONG, plain, left),
        Stretch(2 * stitches, 2 * stitches, Side.RIGHT, _LAST[mitre], 1),
    )


def rows_of(stitches: int) -> int:
    """How many rows a square has whose side is ``stitches``, without the foundation."""
    return 2 * stitches


def worked(stitches: int, mitre: Mitre) -> int:
    """Stitches worked in one square, the foundation included, in closed form."""
    n = stitches
    return 2 * n * n + 2 * n + 1 if mitre is Mitre.PAIRED else 2 * n * n + 4 * n + 1


_SLIP, _TO_END = RowPart(NeedleMove.SLIP_MARKER), RowPart(NeedleMove.KNIT_TO_END)
_DECREASE = {
    Mitre.PAIRED: (RowPart(NeedleMove.K2TOG), _SLIP, RowPart(NeedleMove.SSK)),
    Mitre.CENTRED: (RowPart(NeedleMove.CDD),),
}
_LAST = {
    Mitre.PAIRED: (
        RowPart(NeedleMove.REMOVE_MARKER),
        RowPart(NeedleMove.K2TOG),
        RowPart(NeedleMove.FASTEN_OFF),
    ),
    Mitre.CENTRED: (RowPart(NeedleMove.CDD), RowPart(NeedleMove.FASTEN_OFF)),
}


def _plain(each: int, mitre: Mitre) -> tuple[RowPart, ...]:
    if mitre is Mitre.CENTRED:
        return (RowPart(NeedleMove.KNIT, 2 * each + 1),)
    knit = RowPart(NeedleMove.KNIT, each)
    return (knit, _SLIP, knit)


def _decrease(each: int, mitre: Mitre) -> tuple[RowPart, ...]:
    """Leaves ``each`` stitches on either side of the mitre (and the marked one on it)."""
    beside = each if mitre is Mitre.CENTRED else each - 1
    knit = (RowPart(NeedleMove.KNIT, beside),) if beside else ()
    return (*knit, *_DECREASE[mitre], *knit)
