"""The working behind a plan: the layout as flat lists, and what follows from them."""

from typing import NamedTuple

from drives.craft.places import Place, row_of_places

from .foundation import Do, Edge, How, foundation
from .layout import Layout

NOTHING = 0


class Grid:
    """One entry a unit, row by row, in every list; cell 0 stands for "nothing".

    There is a column of nothing on the left and a row of nothing below, so that looking left or
    down never leaves the lists. ``left`` and ``below`` hold, for each unit, the square that it
    joins on that side, by the cell of that square's bottom-left unit, or nothing.
    """

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        self.width = width = layout.columns + 1
        self.place: list[Place] = []
        for row in range(layout.rows + 1):
            self.place += row_of_places(row)[:width]
        owner = list(range(len(self.place)))
        owner[:width] = [NOTHING] * width
        owner[::width] = [NOTHING] * (layout.rows + 1)
        for missing in layout.missing:
            owner[self.cell(missing)] = NOTHING
        self.size = [1] * len(owner)
        for large in layout.large:
            first = self.cell(large.at)
            self.size[first] = large.size
            for unit in range(first, first + large.size * width, width):  # row by row
                owner[unit : unit + large.size] = [first] * large.size
        self.squares = [cell for cell, own in enumerate(owner) if own == cell != NOTHING]
        self.left = [NOTHING, *owner[:-1]]
        self.below = [NOTHING] * width + owner[:-width]
        for seam in layout.seams:
            side = self.left if seam.first.row == seam.second.row else self.below
            side[self.cell(seam.second)] = NOTHING

    def cell(self, place: Place) -> int:
        return place.row * self.width + place.column

    def sides(self, cell: int) -> tuple[list[int], list[int]]:
        """What lies along the left side, from the bottom, and along the bottom, from the left."""
        size = self.size[cell]
        left = self.left[cell : cell + size * self.width : self.width]
        return left, self.below[cell : cell + size]

    def neighbours(self, cell: int) -> list[int]:
        """The same, one side after the other."""
        left, below = self.sides(cell)
        return left + below

    def supports(self, cell: int) -> tuple[Place, ...]:
        """The squares that the one at ``cell`` stands on, by column and row."""
        if self.size[cell] == 1:
            left, below = self.left[cell], self.below[cell]
            if left and below:
                one, other = self.place[left], self.place[below]
                return (one, other) if one < other else (other, one)
            return (self.place[left or below],) if left or below else ()
        return tuple(sorted({self.place[other] for other in self.neighbours(cell) if other}))


def rounds(grid: Grid) -> list[int]:
    """The earliest round, from 1, in which the square at each cell can be worked.

    A depth-first walk; that it ends is the theorem of Guibas and Yao, On translating a set of
    rectangles (STOC 1980): squares that do not overlap never stand on each other in a circle.
    """
    unknown = -1
    number = [unknown] * len(grid.place)
    number[NOTHING] = 0
    left, below, size = grid.left, grid.below, grid.size
    for start in grid.squares:
        if size[start] == 1:  # nearly all; what it stands on begins no higher up, so came before
            one, other = number[left[start]], number[below[start]]
            number[start] = 1 + (one if one > other else other)
            continue
        waiting = [start]
        while waiting:
            cell = waiting[-1]
            supports = grid.neighbours(cell)
            first = [support for support in supports if number[support] == unknown]
            if first:
                waiting += first
            else:
                waiting.pop()
                number[cell] = 1 + max(number[support] for support in supports)
    return number


class RelativeStep(NamedTuple):
    """A step of a foundation whose neighbour is told by its distance in cells; 0 for none."""

    do: Do
    stitches: int
    distance: int
    edge: Edge | None
    ridges: tuple[int, int] | None
    how: How | None


Shape = tuple[RelativeStep, ...]


def shapes(grid: Grid) -> list[Shape]:
    """The right-handed foundation of the square at each cell.

    Squares whose neighbours lie alike share one. In cells a distance is unambiguous: no
    neighbour is as far away in its row as the grid is wide.
    """
    known: dict[tuple[int, ...], Shape] = {}
    found: list[Shape] = [()] * len(grid.place)
    left, below, size = grid.left, grid.below, grid.size
    for cell in grid.squares:
        if size[cell] == 1:
            one, other = left[cell], below[cell]
            key: tuple[int, ...] = (one and cell - one, other and cell - other)
        else:
            key = (size[cell], *[other and cell - other for other in grid.neighbours(cell)])
        shape = known.get(key)
        if shape is None:
            shape = known[key] = _shape(grid, cell)
        found[cell] = shape
    return found


def _shape(grid: Grid, cell: int) -> Shape:
    left, below = (
        [grid.place[other] if other else None for other in side] for side in grid.sides(cell)
    )
    return tuple(
        RelativeStep(do, stitches, cell - grid.cell(onto) if onto else 0, edge, ridges, how)
        for do, stitches, onto, edge, ridges, how in foundation(
            grid.layout, left, below, grid.place[cell]
        )
    )
