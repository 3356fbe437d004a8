"""Usual sizes of blankets. They are typical; the receiver's own rule comes first."""

from enum import StrEnum
from typing import NamedTuple

from .sources import LAPS

AS_OF = "2026-11"
"""The year and month in which the sources said so."""


class Use(StrEnum):
    """What a blanket is for."""

    VERY_SMALL_PREMATURE = "very-small-premature"
    PREMATURE = "premature"
    NEONATAL_UNIT = "neonatal-unit"
    """The least that one takes."""
    PRAM = "pram"
    RECEIVING = "receiving"
    COT = "cot"
    CHILD = "child"
    TEENAGER = "teenager"
    LAP = "lap"
    """Of somebody who sits in a wheelchair, too."""
    THROW = "throw"


class Typical(NamedTuple):
    """One use and its size, width by height in inches as published; ``to`` where it is a range."""

    use: Use
    inches: tuple[int, int]
    source: str
    to: tuple[int, int] | None = None


_SIZES = "oombawkadesigncrochet.com/blanket-and-afghan-sizes"
_LINUS = "sjlinus.org/blankets-specifications"

TYPICAL = (
    Typical(Use.VERY_SMALL_PREMATURE, (12, 12), _SIZES),
    Typical(Use.PREMATURE, (20, 20), _SIZES, to=(28, 28)),
    Typical(Use.NEONATAL_UNIT, (24, 24), "muoxford.org.uk/knitting"),
    Typical(Use.PRAM, (30, 36), _SIZES),
    Typical(Use.RECEIVING, (36, 36), _SIZES),
    Typical(Use.COT, (36, 54), _SIZES),
    Typical(Use.CHILD, (45, 60), _LINUS),
    Typical(Use.TEENAGER, (60, 72), _LINUS),
    # About 36 in wide keeps clear of the wheels.
    Typical(
        Use.LAP,
        (36, 48),
        LAPS,
    ),
    Typical(Use.THROW, (50, 60), "edinyarnfest.com/crochet-blanket-sizes"),
)
