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


def rows(stitches: int, mitre: Mitre) -> tuple[Row, ...]:
    """Every row of a square whose side is ``stitches``: 2 × ``stitches`` rows (craft.md, 2).

    Row 1 is the first row after the foundation (WS). The text is the same for both hands: who
    works left-handed reads it from the other end of the same foundation.
    """
    paired = mitre is Mitre.PAIRED
    n = stitches
    first = f"k{n}, place marker, k{n}" if paired else f"k{n}, k1 and mark it, k{n}"
    worked = [Row(1, Side.WRONG, first, 2 * n if paired else 2 * n + 1)]
    for ridge in range(1, n):
        each = n - ridge
        if paired:
            decrease, plain, left = (
                _around("k2tog, slip marker, ssk", each - 1),
                _around("slip marker", each),
                2 * each,
            )
        else:
            decrease, plain, left = _around("cdd", each), f"k{2 * each + 1}", 2 * each + 1
        worked.append(Row(2 * ridge, Side.RIGHT, decrease, left))
        worked.append(Row(2 * ridge + 1, Side.WRONG, plain, left))
    last = "remove marker, k2tog, fasten off" if paired else "cdd, fasten off"
    worked.append(Row(2 * n, Side.RIGHT, last, 1))
    return tuple(worked)


def compact(stitches: int, mitre: Mitre) -> tuple[Stretch, ...]:
    """The same rows with repeats told once."""
    every = rows(stitches, mitre)
    first, last = every[0], every[-1]
    if mitre is Mitre.PAIRED:
        middle = "knit to 2 before the marker, k2tog, slip marker, ssk"
        plain = "knit, slipping the marker"
    else:
        middle = "knit to 1 before the marked stitch, cdd"
        plain = "knit"
    decrease = f"{middle}, knit to the end (2 fewer each time)"
    n = stitches
    return (
        Stretch(1, 1, Side.WRONG, first.instruction, first.stitches),
        Stretch(2, 2 * n - 2, Side.RIGHT, decrease, every[-2].stitches),
        Stretch(3, 2 * n - 1, Side.WRONG, plain, every[-2].stitches),
        Stretch(2 * n, 2 * n, Side.RIGHT, last.instruction, last.stitches),
    )


def worked(stitches: int, mitre: Mitre) -> int:
    """Stitches worked in one square, the foundation included, in closed form."""
    n = stitches
    return 2 * n * n + 2 * n + 1 if mitre is Mitre.PAIRED else 2 * n * n + 4 * n + 1


def _around(middle: str, each: int) -> str:
    return f"k{each}, {middle}, k{each}" if each else middle
