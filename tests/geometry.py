"""Layouts thought through the slow way, unit by unit from the definitions (TRADE.md, section 4)."""

from collections.abc import Collection, Iterator

from drives.craft.layout.layout import Layout, Seam
from drives.craft.places import Place

Supports = dict[Place, set[Place]]


def supports(layout: Layout) -> Supports:
    """What each square stands on."""
    owner = {unit: large.at for large in layout.large for unit in large.units()}
    for unit in _units(layout):
        if unit not in layout.missing:
            owner.setdefault(unit, unit)
    found: Supports = {square: set() for square in owner.values()}
    for unit, square in owner.items():
        for other in (Place(unit.column - 1, unit.row), Place(unit.column, unit.row - 1)):
            joined = other in owner and Seam.between(unit, other) not in layout.seams
            if joined and owner[other] != square:
                found[square].add(owner[other])
    return found


def fabrics(stands_on: Supports, among: Collection[Place]) -> set[frozenset[Place]]:
    """The connected sets of squares, by merging them one by one."""
    found: set[frozenset[Place]] = set()
    for square in among:
        beside = stands_on[square] & set(among)
        touched = {fabric for fabric in found if fabric & beside}
        touched |= {
            fabric for fabric in found if any(square in stands_on[other] for other in fabric)
        }
        found = (found - touched) | {frozenset({square}).union(*touched)}
    return found


def _units(layout: Layout) -> Iterator[Place]:
    for row in range(1, layout.rows + 1):
        for column in range(1, layout.columns + 1):
            yield Place(column, row)
