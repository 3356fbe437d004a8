"""The craft worked out a second time: slow, obvious, stitch by stitch, straight from TRADE.md.

It shares with ``drives.craft`` the words of questions and answers (Layout, Place, Step …) and
none of the working.
"""

from collections.abc import Iterator
from functools import cache
from itertools import groupby
from typing import NamedTuple

from drives.craft.knitter import Hand
from drives.craft.layout.foundation import Do, Edge, How, Step
from drives.craft.layout.layout import Layout, Mitre, Seam
from drives.craft.places import Place


class Square(NamedTuple):
    at: Place
    size: int

    def units(self) -> list[Place]:
        column, row = self.at
        return [Place(column + x, row + y) for x in range(self.size) for y in range(self.size)]


class Stitch(NamedTuple):
    """One stitch of a foundation; ``ridge`` is None in a cast-on and for a corner's own stitch."""

    do: Do
    onto: Place | None = None
    edge: Edge | None = None
    ridge: int | None = None


CAST_ON = Stitch(Do.CAST_ON)
CORNER = Stitch(Do.CORNER)


def squares(layout: Layout) -> list[Square]:
    found = [Square(large.at, large.size) for large in layout.large]
    covered = {unit for square in found for unit in square.units()} | layout.missing
    grid = [
        Place(column, row)
        for column in range(1, layout.columns + 1)
        for row in range(1, layout.rows + 1)
    ]
    return sorted(found + [Square(place, 1) for place in grid if place not in covered])


@cache
def owners(layout: Layout) -> dict[Place, Square]:
    """The square that each unit belongs to; a missing place is not there."""
    return {unit: square for square in squares(layout) for unit in square.units()}


def below(unit: Place) -> Place:
    return Place(unit.column, unit.row - 1)


def left_of(unit: Place) -> Place:
    return Place(unit.column - 1, unit.row)


def joined(layout: Layout, unit: Place, beside: Place) -> Square | None:
    """The square at ``beside`` that ``unit`` is joined to; TRADE.md, section 4."""
    if Seam(beside, unit) in layout.seams:
        return None
    return owners(layout).get(beside)


def stands_on(layout: Layout) -> dict[Place, set[Place]]:
    """B stands on A when part of A's right or top edge lies along B's left or bottom edge."""
    found: dict[Place, set[Place]] = {square.at: set() for square in squares(layout)}
    owner = owners(layout)
    for unit, square in owner.items():
        for beside in (left_of(unit), below(unit)):
            support = owner.get(beside)
            if support and support != square and Seam(beside, unit) not in layout.seams:
                found[square.at].add(support.at)
    return found


def rounds(layout: Layout) -> dict[Place, int]:
    """Work as with unlimited hands: in each round everything whose supports were done before."""
    waiting = stands_on(layout)
    found: dict[Place, int] = {}
    number = 0
    while waiting:
        number += 1
        able = [place for place, supports in waiting.items() if supports <= found.keys()]
        assert able, "squares stand on each other in a circle"
        for place in able:
            del waiting[place]
        found |= dict.fromkeys(able, number)
    return found


def pieces(layout: Layout, among: set[Place]) -> set[frozenset[Place]]:
    """The fabrics that the squares ``among`` make: spread from each over all that it touches."""
    touching: dict[Place, set[Place]] = {place: set() for place in among}
    for one, supports in stands_on(layout).items():
        for other in supports:
            if one in among and other in among:
                touching[one].add(other)
                touching[other].add(one)
    found = set()
    for place in among:
        fabric = {place}
        while grown := set().union(*(touching[square] for square in fabric)) - fabric:
            fabric |= grown
        found.add(frozenset(fabric))
    return found


def path(square: Square, hand: Hand) -> Iterator[tuple[Place, Edge]]:
    """The units along which the foundation runs, and the edge that a neighbour offers there."""
    column, row = square.at
    along = range(square.size)
    bottom = [(Place(column + x, row), Edge.TOP) for x in along]
    side = [(Place(column, row + y), Edge.RIGHT) for y in along]
    if hand is Hand.RIGHT:  # from the bottom-right corner leftwards, then up the left side
        yield from reversed(bottom)
        yield from side
    else:  # from the top-left corner down the left side, then rightwards along the bottom
        yield from reversed(side)
        yield from bottom


def unit_stitches(layout: Layout, unit: Place, edge: Edge, hand: Hand) -> list[Stitch]:
    """The stitches along one unit, in the order of work."""
    neighbour = joined(layout, unit, below(unit) if edge is Edge.TOP else left_of(unit))
    if neighbour is None:
        return [CAST_ON] * layout.stitches
    if edge is Edge.TOP:
        before = (unit.column - neighbour.at.column) * layout.stitches
        against_the_count = hand is Hand.RIGHT  # ridges count from the left, the path runs left
    else:
        before = (unit.row - neighbour.at.row) * layout.stitches
        against_the_count = hand is Hand.LEFT
    ridges = [before + number for number in range(1, layout.stitches + 1)]
    if against_the_count:
        ridges.reverse()
    return [Stitch(Do.PICK_UP, neighbour.at, edge, ridge) for ridge in ridges]


def stitches(layout: Layout, square: Square, hand: Hand) -> list[Stitch]:
    """The whole foundation, one stitch at a time; TRADE.md, section 3."""
    found = [
        stitch
        for unit, edge in path(square, hand)
        for stitch in unit_stitches(layout, unit, edge, hand)
    ]
    corner = square.size * layout.stitches
    before, after = found[corner - 1], found[corner]
    picked_up = [stitch for stitch in (before, after) if stitch.do is Do.PICK_UP]
    if layout.mitre is Mitre.CENTRED:
        match picked_up:
            case []:
                middle = CAST_ON
            case [run]:
                middle = run._replace(ridge=None)
            case _:
                middle = CORNER
        found.insert(corner, middle)
    elif layout.corner_trade and len(picked_up) == 1:
        cast_on = corner - 1 if before.do is Do.CAST_ON else corner
        found[cast_on] = picked_up[0]._replace(ridge=None)
    return found


def foundation(layout: Layout, square: Square, hand: Hand) -> tuple[Step, ...]:
    """Runs of the same kind and the same neighbour are one step."""
    runs = [list(run) for _, run in groupby(stitches(layout, square, hand), lambda each: each[:3])]
    steps = []
    for index, run in enumerate(runs):
        do, onto, edge, _ = run[0]
        ridges = [stitch.ridge for stitch in run if stitch.ridge is not None]
        how = None
        if do is Do.CAST_ON:
            last = index == len(runs) - 1
            how = How.FIRST if index == 0 else How.LAST if last else How.BETWEEN
        span = (min(ridges), max(ridges)) if ridges else None
        steps.append(Step(do, len(run), onto, edge, span, how))
    return tuple(steps)
