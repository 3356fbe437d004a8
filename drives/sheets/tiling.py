"""Onto how many sheets of paper a wall map goes, and how large its squares are. Lengths in mm."""

from collections.abc import Iterator
from math import floor
from typing import NamedTuple

from drives.craft.layout.layout import Layout
from drives.craft.places import Place
from drives.drawing.wall_view import MARK, STRIP, Scale, WallView, name_size
from drives.models import Paper

from .fit import MM, POINT, stretches

A3 = (297.0, 420.0)  # ISO 216
MARGIN = 6  # least, for printers
CAPTION = 16  # below the map of each sheet
# What title and legend may take above and below a map on one sheet: tried one after the other.
AROUND = (45, 60, 80, 105, 135)
USUALLY = {False: 60, True: 105}  # by the size of print
LETTER = {False: 3.6, True: 5.6}  # of the names at the edges
READABLE = {False: 6 * POINT, True: 11 * POINT}  # of a name within a square
LARGEST = 40  # the side of a square, if there is room
SMALLER = 0.25  # steps in which smaller squares are tried

# Squares so large are worth so many sheets, from the best on; with names in them …
WORTH = ((20, 6), (14, 9), (10, 12), (0, 20))
# … and without; nothing is smaller on several sheets.
WORTH_BARE = ((5, 24), (3, 30))


class Tiling(NamedTuple):
    """``across`` × ``up`` sheets, each of ``columns`` × ``rows`` units at most."""

    scale: Scale
    landscape: bool
    across: int
    up: int
    layout: Layout

    @property
    def views(self) -> list[list[WallView]]:
        """The sheets as they hang: rows from the top, in each from the left."""
        columns, rows = _even(self.layout.columns, self.across), _even(self.layout.rows, self.up)
        return [
            [
                WallView(self.layout, Place(some[0], others[0]), Place(some[-1], others[-1]))
                for some in columns
            ]
            for others in reversed(rows)
        ]


def size_of(paper: str) -> tuple[float, float]:
    """Width and height of a paper by its CSS name."""
    return A3 if paper == "A3" else MM[Paper(paper)]


def on_one(
    layout: Layout, paper: tuple[float, float], *, large: bool, around: float | None = None
) -> Tiling:
    """The whole map on one sheet, the way up on which its squares are larger."""
    rest = USUALLY[large] if around is None else around
    letter = LETTER[large]
    edges = 2 * Scale(0, letter, True).edge

    def unit(landscape: bool) -> float:
        width, height = _room(paper, landscape, rest)
        return min((width - edges) / layout.columns, (height - edges) / layout.rows, LARGEST)

    landscape = unit(True) > unit(False)
    return Tiling(_scale(unit(landscape), layout, large), landscape, 1, 1, layout)


def on_several(layout: Layout, paper: str, *, large: bool) -> Tiling:
    """As few sheets as give squares of a good size; where names do not fit, fewer and smaller."""
    size = size_of(paper)
    one = on_one(layout, size, large=large)
    least = _readable(layout, large)
    grow = 1.4 if large else 1
    if one.scale.unit >= grow * WORTH[0][0]:
        return one
    found = list(_choices(layout, size, large))
    for unit, most in (*((max(unit * grow, least), most) for unit, most in WORTH), *WORTH_BARE):
        good = [each for each in found if each.scale.unit >= unit and each.across * each.up <= most]
        if good:
            return min(good, key=lambda each: (each.across * each.up, -each.scale.unit))
    return min(found, key=lambda each: each.across * each.up)


def _choices(layout: Layout, paper: tuple[float, float], large: bool) -> Iterator[Tiling]:
    """For every size of square and way up, the fewest sheets."""
    spare = Scale(0, LETTER[large], True).edge + STRIP
    for landscape in (False, True):
        width, height = _room(paper, landscape, CAPTION)
        for step in range(round(LARGEST / SMALLER), round(3 / SMALLER) - 1, -1):
            unit = step * SMALLER
            across, up = (
                len(stretches(length, floor((room - spare) / unit)))
                for length, room in ((layout.columns, width), (layout.rows, height))
            )
            yield Tiling(_scale(unit, layout, large), landscape, across, up, layout)


def _room(paper: tuple[float, float], landscape: bool, below: float) -> tuple[float, float]:
    width, height = reversed(paper) if landscape else paper
    around = 2 * (MARGIN + MARK)
    return width - around, height - around - below


def _scale(unit: float, layout: Layout, large: bool) -> Scale:
    return Scale(unit, LETTER[large], unit >= _readable(layout, large))


def _readable(layout: Layout, large: bool) -> float:
    """The least side of a square with the longest name in it."""
    longest = len(str(Place(layout.columns, layout.rows)))
    return READABLE[large] / name_size(1, longest)


def _even(length: int, count: int) -> list[range]:
    """1 … ``length`` in ``count`` stretches, nearly equal."""
    return stretches(length, -(-length // count))
