"""The outlines of pieces: a double line just inside the squares of each, and its name on dark."""

from collections.abc import Collection, Iterator, Mapping, Sequence

from drives.craft.places import Place

from .grid import FONT, NAME_SIZES, DrawingGrid
from .lines import Point, tail
from .looks import INK, UNIT, Stroke, stroke

INSET = 4  # so that the outlines of two neighbours, and a seam between them, stay apart
DOUBLE = (("#ffffff", 7), (INK, 5), ("#ffffff", 1.6))
ROUND = ' stroke-linejoin="round"'

Corner = tuple[int, int]  # of a unit: columns and rows that lie before it
Loop = Sequence[Corner]


def outlines(
    grid: DrawingGrid, pieces: Mapping[str, Collection[Place]], size: Mapping[Place, int]
) -> str:
    """Each piece, by its name, around its squares, which are ``size`` units wide.

    The name stands in the square of that name, or else in the first one of the piece.
    """
    parts = []
    for name, places in pieces.items():
        loops = [_inside(grid, loop) for loop in _loops(places, size)]
        around = tail([*loop, loop[0]] for loop in loops)
        parts.append(f'<g class="piece">{"".join(_double(around))}</g>')
        named = [place for place in places if str(place) == name] or list(places)
        parts.append(_tag(name, grid.corner(named[0], size[named[0]]), size[named[0]] * UNIT))
    return "".join(parts)


def outline_sign() -> tuple[Stroke, ...]:
    """The corner of an outline, for the legend."""
    bend = tail([[(INSET, UNIT), (INSET, INSET), (UNIT, INSET)]])
    return tuple(stroke(colour, width, bend, ROUND) for colour, width in DOUBLE)


def _double(around: str) -> Iterator[str]:
    for colour, width in DOUBLE:
        yield stroke(colour, width, around, ROUND).at(["0 0"])


def _loops(places: Collection[Place], size: Mapping[Place, int]) -> Iterator[Loop]:
    """The boundary of all units together, each loop with the piece on its right."""
    units = {
        (column, row)
        for place in places
        for column in range(place.column, place.column + size[place])
        for row in range(place.row, place.row + size[place])
    }
    onwards: dict[Corner, list[Corner]] = {}
    for column, row in sorted(units):
        left, right, below, above = column - 1, column, row - 1, row
        for beyond, start, end in (
            ((column - 1, row), (left, below), (left, above)),
            ((column, row + 1), (left, above), (right, above)),
            ((column + 1, row), (right, above), (right, below)),
            ((column, row - 1), (right, below), (left, below)),
        ):
            if beyond not in units:
                onwards.setdefault(start, []).append(end)
    while onwards:
        start = next(iter(onwards))
        loop = [start, _leave(onwards, start, None)]
        while loop[-1] != start or loop[-2] == start:
            loop.append(_leave(onwards, loop[-1], loop[-2]))
        yield loop[:-1]


def _leave(onwards: dict[Corner, list[Corner]], at: Corner, before: Corner | None) -> Corner:
    """Go on from a corner; where two units touch only there, stay with the one come along."""
    ends = onwards[at]
    if before is not None and len(ends) > 1:
        right = at[0] + at[1] - before[1], at[1] - at[0] + before[0]
        ends.sort(key=lambda end: end == right)
    end = ends.pop()
    if not ends:
        del onwards[at]
    return end


def _inside(grid: DrawingGrid, loop: Loop) -> list[Point]:
    """The bends of a loop in the drawing, moved into the piece."""
    points: list[Point] = []
    for before, (x, y), after in zip((loop[-1], *loop), loop, (*loop[1:], loop[0]), strict=False):
        came, goes = (x - before[0], y - before[1]), (after[0] - x, after[1] - y)
        if came != goes:
            left, top = grid.corner(Place(x + 1, y))
            points.append((left + INSET * (came[1] + goes[1]), top + INSET * (came[0] + goes[0])))
    return points


def _tag(name: str, corner: tuple[int, int], side: int) -> str:
    letters = NAME_SIZES.get(len(name), 12)
    width, height = round(len(name) * letters * 0.62) + 8, letters + 5
    right, bottom = corner[0] + side - 9, corner[1] + side - 9
    return (
        f'<g class="piece-name" aria-hidden="true"><rect x="{right - width}" y="{bottom - height}" '
        f'width="{width}" height="{height}" rx="3" fill="{INK}" stroke="#ffffff" stroke-width="2"/>'
        f'<text x="{right - width / 2:g}" y="{bottom - 5}" {FONT} font-size="{letters}" '
        f'fill="#ffffff" text-anchor="middle">{name}</text></g>'
    )
