"""The rows of one square, from the foundation to the last stitch."""

from enum import StrEnum
from typing import NamedTuple

from .layout import Mitre


class Side(StrEnum):
    """The side that faces the knitter."""

    RIGHT = "RS"
    WRONG = "WS"


class Row(NamedTuple):
    """One row: what to do, and the stitches on the needle afterwards."""

    row: int
    side: Side
    instruction: str
    stitches: int


class Stretch(NamedTuple):
    """Rows ``first``, ``first + 2``, … ``last``, worked alike; the compact form for paper."""

    first: int
    last: int
    side: Side
    instruction: str
    stitches: int  # after the last of them

    @property
    def numbers(self) -> str:
        """The rows' numbers as one writes them: ``1``, ``2, 4`` or ``2, 4 … 38``."""
        if self.first == self.last:
            return str(self.first)
        second = self.first + 2
        end = f" … {self.last}" if self.last > second else ""
        return f"{self.first}, {second}{end}"


def rows(stitches: int, mitre: Mitre) -> tuple[Row, ...]:
    """Every row of a square whose side is ``stitches``: 2 × ``stitches`` rows (craft.md, 2).

    Row 1 is the first row after the foundation (WS); the marker hangs there since then. The text
    is the same for both hands: who works left-handed reads it from the other end of the same
    foundation.
    """
    found = []
    for row in range(1, rows_of(stitches)):
        each = stitches - row // 2  # on either side of the mitre, after this row
        side, instruction = (
            (Side.WRONG, _plain(each, mitre)) if row % 2 else (Side.RIGHT, _decrease(each, mitre))
        )
        found.append(Row(row, side, instruction, 2 * each + (mitre is Mitre.CENTRED)))
    found.append(Row(rows_of(stitches), Side.RIGHT, _LAST[mitre], 1))
    return tuple(found)


def compact(stitches: int, mitre: Mitre) -> tuple[Stretch, ...]:
    """The same rows with repeats told once."""
    every = rows(stitches, mitre)
    before_last = every[-2]
    if mitre is Mitre.PAIRED:
        decrease = "knit to 2 before the marker, k2tog, slip marker, ssk"
        plain = "knit to the marker, slip marker, knit to the end"
    else:
        decrease = "knit to 1 before the marked stitch, cdd"
        plain = "knit"
    decrease += ", knit to the end (2 fewer each time)"
    return (
        Stretch(1, 1, Side.WRONG, every[0].instruction, every[0].stitches),
        Stretch(2, 2 * stitches - 2, Side.RIGHT, decrease, before_last.stitches),
        Stretch(3, 2 * stitches - 1, Side.WRONG, plain, before_last.stitches),
        Stretch(2 * stitches, 2 * stitches, Side.RIGHT, _LAST[mitre], 1),
    )


def rows_of(stitches: int) -> int:
    """How many rows a square has whose side is ``stitches``, without the foundation."""
    return 2 * stitches


def worked(stitches: int, mitre: Mitre) -> int:
    """Stitches worked in one square, the foundation included, in closed form."""
    n = stitches
    return 2 * n * n + 2 * n + 1 if mitre is Mitre.PAIRED else 2 * n * n + 4 * n + 1


_LAST = {
    Mitre.PAIRED: "remove marker, k2tog, fasten off",
    Mitre.CENTRED: "cdd, fasten off",
}


def _plain(each: int, mitre: Mitre) -> str:
    if mitre is Mitre.CENTRED:
        return f"k{2 * each + 1}"
    return f"k{each}, slip marker, k{each}"


def _decrease(each: int, mitre: Mitre) -> str:
    """Leaves ``each`` stitches on either side of the mitre (and the marked one on it)."""
    if mitre is Mitre.CENTRED:
        return f"k{each}, cdd, k{each}"
    decrease = "k2tog, slip marker, ssk"
    return f"k{each - 1}, {decrease}, k{each - 1}" if each > 1 else decrease
