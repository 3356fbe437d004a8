"""A layout thought through: what stands on what, the rounds, the order, the foundations."""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from .foundation import Edge, Step, for_hand, foundation
from .layout import Hand, InvalidLayout, Layout, problems
from .places import Place

ORIGIN = Place(0, 0)


class Kind(StrEnum):
    """Which of a square's two foundation sides has any join."""

    BASE = "base"
    SIDE_JOIN = "side-join"
    TOP_JOIN = "top-join"
    CORNER_JOIN = "corner-join"


@dataclass(frozen=True, eq=False)
class Plan:
    """Everything that follows from a layout alone. All mappings are keyed by a square's place.

    ``size``: units. ``stands_on``: the squares whose right or top edge it joins, by column and
    row. ``round``: the earliest round, from 1, in which it can be worked with unlimited hands.
    ``places`` is the recommended order of work: by round, the right-hand neighbour first, then
    the one on top (common practice).
    """

    layout: Layout
    places: tuple[Place, ...]
    size: dict[Place, int]
    stands_on: dict[Place, tuple[Place, ...]]
    round: dict[Place, int]
    _shape: dict[Place, tuple[Step, ...]]  # right-handed, neighbours relative to the square

    @property
    def rounds(self) -> int:
        """Squares in the longest chain."""
        return self.round[self.places[-1]]

    @property
    def widest_round(self) -> int:
        counts = [0] * (self.rounds + 1)
        for number in self.round.values():
            counts[number] += 1
        return max(counts)

    @cached_property
    def carries(self) -> dict[Place, tuple[Place, ...]]:
        """The squares that stand on each square, in the recommended order."""
        above: dict[Place, list[Place]] = {place: [] for place in self.places}
        for place in self.places:
            for support in self.stands_on[place]:
                above[support].append(place)
        return {place: tuple(squares) for place, squares in above.items()}

    @cached_property
    def chain(self) -> dict[Place, int]:
        """Squares in the longest chain that begins with each square, itself counted."""
        longest: dict[Place, int] = {}
        for place in reversed(self.places):
            longest[place] = 1 + max((longest[above] for above in self.carries[place]), default=0)
        return longest

    def foundation(self, place: Place, hand: Hand = Hand.RIGHT) -> tuple[Step, ...]:
        """The steps of the square at ``place``, in the order of work for ``hand``."""
        column, row = place
        steps = tuple(
            step._replace(onto=Place(column + step.onto[0], row + step.onto[1]))
            if step.onto
            else step
            for step in self._shape[place]
        )
        return for_hand(steps, hand)

    def kind(self, place: Place) -> Kind:
        edges = {step.edge for step in self._shape[place]} - {None}
        if len(edges) == 2:
            return Kind.CORNER_JOIN
        if Edge.RIGHT in edges:
            return Kind.SIDE_JOIN
        return Kind.TOP_JOIN if edges else Kind.BASE

    def pieces(self, among: Collection[Place] | None = None) -> list[frozenset[Place]]:
        """The connected fabrics that the squares ``among`` (all of them by default) make.

        Ordered by each piece's first square in the recommended order.
        """
        places = (
            self.places if among is None else [place for place in self.places if place in among]
        )
        root = {place: place for place in places}

        def find(place: Place) -> Place:
            while root[place] != place:
                root[place] = place = root[root[place]]
            return place

        for place in places:
            for support in self.stands_on[place]:
                if support in root:
                    root[find(place)] = find(support)
        pieces: dict[Place, set[Place]] = {}
        for place in places:
            pieces.setdefault(find(place), set()).add(place)
        return [frozenset(piece) for piece in pieces.values()]


def plan(layout: Layout) -> Plan:
    """Think ``layout`` through, in time linear in its units.

    Raises InvalidLayout with every problem when it cannot be knitted.
    """
    found = problems(layout)
    if found:
        raise InvalidLayout(found)
    grid = _Grid(layout)
    order = _rounds(grid)
    place = grid.place
    return Plan(
        layout=layout,
        places=tuple(place[cell] for round_ in order for cell in round_),
        size={place[cell]: grid.size[cell] for cell in grid.squares},
        stands_on={place[cell]: grid.supports(cell) for cell in grid.squares},
        round={place[cell]: number for number, round_ in enumerate(order, 1) for cell in round_},
        _shape=_shapes(grid),
    )


class _Grid:
    """The layout as flat lists, one entry a unit, row by row; cell 0 stands for "nothing".

    The grid has a column of nothing on its left and a row of nothing below it, so that looking
    left or down never leaves the lists. ``left`` and ``below`` hold, for each unit, the square
    that it joins on that side, by the cell of that square's bottom-left unit, or 0.
    """

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        self.width = width = layout.columns + 1
        self.place = [
            Place(column, row) for row in range(layout.rows + 1) for column in range(width)
        ]
        owner = [cell if cell > width and cell % width else 0 for cell in range(len(self.place))]
        for missing in layout.missing:
            owner[self.cell(missing)] = 0
        self.size = [1] * len(owner)
        for large in layout.large:
            first = self.cell(large.at)
            self.size[first] = large.size
            for unit in large.units():
                owner[self.cell(unit)] = first
        self.squares = [cell for cell, own in enumerate(owner) if own and own == cell]
        self.left = [0, *owner[:-1]]
        self.below = [0] * width + owner[:-width]
        for seam in layout.seams:
            side = self.left if seam.first.row == seam.second.row else self.below
            side[self.cell(seam.second)] = 0

    def cell(self, place: Place) -> int:
        return place.row * self.width + place.column

    def sides(self, cell: int) -> tuple[list[int], list[int]]:
        """What lies along the left side, from the bottom, and along the bottom, from the left."""
        size = self.size[cell]
        if size == 1:
            return [self.left[cell]], [self.below[cell]]
        return self.left[cell : cell + size * self.width : self.width], self.below[
            cell : cell + size
        ]

    def supports(self, cell: int) -> tuple[Place, ...]:
        if self.size[cell] == 1:
            left, below = self.left[cell], self.below[cell]
            if left and below:
                one, other = self.place[left], self.place[below]
                return (one, other) if one < other else (other, one)
            return (self.place[left or below],) if left or below else ()
        left_side, bottom = self.sides(cell)
        return tuple(sorted({self.place[other] for other in (*left_side, *bottom) if other}))


def _rounds(grid: _Grid) -> list[list[int]]:
    """The squares of each round, each round by row and column.

    A depth-first walk; that it ends is the theorem of Guibas and Yao, On translating a set of
    rectangles (STOC 1980): squares that do not overlap never stand on each other in a circle.
    """
    number = [0] * len(grid.place)
    left, below, size = grid.left, grid.below, grid.size
    order: list[list[int]] = []
    for start in grid.squares:
        waiting = [start]
        while waiting:
            cell = waiting[-1]
            supports = (
                (left[cell], below[cell])
                if size[cell] == 1
                else [*grid.sides(cell)[0], *grid.sides(cell)[1]]
            )
            first = [other for other in supports if other and not number[other]]
            if first:
                waiting += first
                continue
            waiting.pop()
            number[cell] = 1 + max([number[other] for other in supports])
    for cell in grid.squares:
        if number[cell] > len(order):
            order += [[] for _ in range(number[cell] - len(order))]
        order[number[cell] - 1].append(cell)
    return order


def _shapes(grid: _Grid) -> dict[Place, tuple[Step, ...]]:
    """Each square's foundation relative to it; squares with like neighbours share one."""
    known: dict[tuple[int, ...], tuple[Step, ...]] = {}
    shapes: dict[Place, tuple[Step, ...]] = {}
    left, below, size, place = grid.left, grid.below, grid.size, grid.place
    for cell in grid.squares:
        if size[cell] == 1:
            key: tuple[int, ...] = (
                left[cell] and cell - left[cell],
                below[cell] and cell - below[cell],
            )
        else:
            sides = grid.sides(cell)
            key = (size[cell], *[other and cell - other for other in (*sides[0], *sides[1])])
        steps = known.get(key)
        if steps is None:
            steps = known[key] = _shape(grid, cell)
        shapes[place[cell]] = steps
    return shapes


def _shape(grid: _Grid, cell: int) -> tuple[Step, ...]:
    at = grid.place[cell]

    def relative(others: Iterable[int]) -> Iterator[Place | None]:
        for other in others:
            there = grid.place[other]
            yield Place(there.column - at.column, there.row - at.row) if other else None

    left, below = grid.sides(cell)
    return foundation(grid.layout, tuple(relative(left)), tuple(relative(below)), ORIGIN)
