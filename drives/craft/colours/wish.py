"""What a circle wishes of the colours of its blanket."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from drives.craft.places import Place


class Pattern(StrEnum):
    """How the colours lie. Where squares are scattered or free, no square has a colour of its own.

    Bands run across the diagonal; a gradient runs along it, each colour as broad as its store
    allows. Chequered: the colours 1, 3, 5 … and 2, 4, 6 … on every other square.
    """

    BANDS = "bands"
    GRADIENT = "gradient"
    CHEQUERED = "chequered"
    SCATTERED = "scattered"
    FREE = "free"


@dataclass(frozen=True)
class Wish:
    """``colours``, in the pattern's order, with the units that each suffices for, or None.

    A square k units wide takes k × k of them; what the ``kept`` squares took is not in the store
    any more. They may have colours of their own, and count for ``at_most`` (squares of a colour)
    and for ``apart`` (no two joined squares alike) and ``over_seams`` (nor, then, two that are sewn
    together). ``allowed``: the only colours of some squares.
    ``near``: a former plan from which as few squares as can be should differ. ``seed``: the same
    one scatters alike.
    """

    pattern: Pattern
    colours: Mapping[str, int | None]
    at_most: Mapping[str, int] = field(default_factory=dict)
    apart: bool = True
    kept: Mapping[Place, str] = field(default_factory=dict)
    allowed: Mapping[Place, Collection[str]] = field(default_factory=dict)
    near: Mapping[Place, str] = field(default_factory=dict)
    seed: int = 1
    over_seams: bool = True
