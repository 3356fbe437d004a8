"""Usual sizes of blankets. They are typical; the receiver's own rule comes first."""

from typing import NamedTuple

AS_OF = "2026-11"
"""The year and month in which the sources said so."""


class Typical(NamedTuple):
    """One use and its size, width by height in inches as published; ``to`` where it is a range."""

    use: str
    inches: tuple[int, int]
    source: str
    to: tuple[int, int] | None = None


_SIZES = "oombawkadesigncrochet.com/blanket-and-afghan-sizes"
_LINUS = "sjlinus.org/blankets-specifications"

TYPICAL = (
    Typical("a very small premature baby", (12, 12), _SIZES),
    Typical("a premature baby", (20, 20), _SIZES, to=(28, 28)),
    Typical("a neonatal unit, at least", (24, 24), "muoxford.org.uk/knitting"),
    Typical("a pram", (30, 36), _SIZES),
    Typical("receiving a baby", (36, 36), _SIZES),
    Typical("a cot", (36, 54), _SIZES),
    Typical("a child", (45, 60), _LINUS),
    Typical("a teenager", (60, 72), _LINUS),
    # About 36 in wide keeps clear of the wheels.
    Typical(
        "a lap, a wheelchair",
        (36, 48),
        "justastitchaway.blogspot.com/2008/03/afghan-blanket-sizes.html",
    ),
    Typical("a throw", (50, 60), "edinyarnfest.com/crochet-blanket-sizes"),
)
