"""The rows of one square, from the foundation to the last stitch."""

from enum import StrEnum
from typing import NamedTuple

from .layout import Mitre


class Side(StrEnum):
    """The side that faces the knitter."""

    RIGHT = "RS"
    WRONG = "WS"


class Move(StrEnum):
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


class Part(NamedTuple):
    """One part of a row: a move, and how many stitches it says."""

    move: Move
    stitches: int = 0


class Row(NamedTuple):
    """One row: what to do, and the stitches on the needle afterwards."""

    row: int
    side: Side
    parts: tuple[Part, ...]
    stitches: int


class Stretch(NamedTuple):
    """Rows ``first``, ``first + 2``, … ``last``, worked alike; the compact form for paper."""

    first: int
    last: int
    side: Side
    parts: tuple[Part, ...]
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
        decrease = (Part(Move.KNIT_TO_MARKER, 2), *_DECREASE[mitre], _TO_END)
        plain: tuple[Part, ...] = (Part(Move.KNIT_TO_MARKER), _SLIP, _TO_END)
    else:
        decrease = (Part(Move.KNIT_TO_MARKED, 1), *_DECREASE[mitre], _TO_END)
        plain = (Part(Move.KNIT_ALL),)
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


_SLIP, _TO_END = Part(Move.SLIP_MARKER), Part(Move.KNIT_TO_END)
_DECREASE = {
    Mitre.PAIRED: (Part(Move.K2TOG), _SLIP, Part(Move.SSK)),
    Mitre.CENTRED: (Part(Move.CDD),),
}
_LAST = {
    Mitre.PAIRED: (Part(Move.REMOVE_MARKER), Part(Move.K2TOG), Part(Move.FASTEN_OFF)),
    Mitre.CENTRED: (Part(Move.CDD), Part(Move.FASTEN_OFF)),
}


def _plain(each: int, mitre: Mitre) -> tuple[Part, ...]:
    if mitre is Mitre.CENTRED:
        return (Part(Move.KNIT, 2 * each + 1),)
    knit = Part(Move.KNIT, each)
    return (knit, _SLIP, knit)


def _decrease(each: int, mitre: Mitre) -> tuple[Part, ...]:
    """Leaves ``each`` stitches on either side of the mitre (and the marked one on it)."""
    beside = each if mitre is Mitre.CENTRED else each - 1
    knit = (Part(Move.KNIT, beside),) if beside else ()
    return (*knit, *_DECREASE[mitre], *knit)
