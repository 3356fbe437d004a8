"""A layout thought through: what stands on what, the rounds, the order, the foundations."""

from collections import Counter
from collections.abc import Collection
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property

from drives.craft.knitter import Hand
from drives.craft.places import Place

from .foundation import Step, mirrored
from .grid import Grid, Shape, rounds, shapes
from .layout import InvalidLayout, Layout, problems, side_stitches

_LEFT = Hand.LEFT  # an enum's own look-up is slow where it is done for every square


class SquareKind(StrEnum):
    """Which of a square's two foundation sides has any join."""

    BASE = "base"
    SIDE_JOIN = "side-join"
    TOP_JOIN = "top-join"
    CORNER_JOIN = "corner-join"


@dataclass(frozen=True, eq=False)
class Plan:
    """Everything that follows from a layout alone. All mappings are keyed by a square's place.

    ``places`` is the recommended order of work: by round, the right-hand neighbour first, then
    the one on top (common practice).
    """

    layout: Layout
    _grid: Grid
    _cell: dict[Place, int]  # where each square is in the grid's lists; in the recommended order
    _round: list[int]  # by cell

    @cached_property
    def places(self) -> tuple[Place, ...]:
        return tuple(self._cell)

    @cached_property
    def size(self) -> dict[Place, int]:
        """The width of each square in units."""
        return {place: self._grid.size[cell] for place, cell in self._cell.items()}

    def side_stitches(self, place: Place) -> int:
        """Stitches along one side of the square at ``place``."""
        return side_stitches(self.size[place], self.layout.stitches)

    @cached_property
    def round(self) -> dict[Place, int]:
        """The earliest round, from 1, in which each square can be worked with unlimited hands."""
        return {place: self._round[cell] for place, cell in self._cell.items()}

    @cached_property
    def stands_on(self) -> dict[Place, tuple[Place, ...]]:
        """The squares whose right or top edge each square joins, by column and row."""
        return {place: self._grid.supports(cell) for place, cell in self._cell.items()}

    @property
    def rounds(self) -> int:
        """Squares in the longest chain."""
        return self.round[self.places[-1]]

    @property
    def widest_round(self) -> int:
        return max(Counter(self.round.values()).values())

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

    @cached_property
    def _shape(self) -> list[Shape]:
        return shapes(self._grid)

    def foundation(self, place: Place, hand: Hand = Hand.RIGHT) -> tuple[Step, ...]:
        """The steps of the square at ``place``, in the order of work for ``hand``."""
        cell, at = self._cell[place], self._grid.place
        steps = []
        for do, stitches, distance, edge, ridges, how in self._shape[cell]:
            onto = at[cell - distance] if distance else None
            # Not Step(…): that takes twice the time, and a large blanket has 45 000 steps.
            steps.append(tuple.__new__(Step, (do, stitches, onto, edge, ridges, how)))
        return mirrored(steps) if hand is _LEFT else tuple(steps)

    def kind(self, place: Place) -> SquareKind:
        left, below = map(any, self._grid.sides(self._cell[place]))
        if left and below:
            return SquareKind.CORNER_JOIN
        if left:
            return SquareKind.SIDE_JOIN
        return SquareKind.TOP_JOIN if below else SquareKind.BASE

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
    grid = Grid(layout)
    number = rounds(grid)
    # The cells go by row and column; the sort keeps that order within each round.
    order = sorted(grid.squares, key=number.__getitem__)
    return Plan(layout, grid, {grid.place[cell]: cell for cell in order}, number)
