"""A blanket as cloth that can be cut: where nothing begun hangs together."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Sequence, Set
from operator import mul
from typing import NamedTuple

from drives.craft.places import Place

from .cuts import Along, Cut, Stretch
from .layout import Seam
from .plan import Plan


class Parts(NamedTuple):
    """Cloth that is cut: the numbers of its new ``seams``, and of the squares of each panel."""

    seams: frozenset[int]
    panels: tuple[tuple[int, ...], ...]


class Cloth:
    """Squares and the seams that could be, by numbers: ``places`` and ``seams`` tell which.

    Nothing is cut inside of a large square, nor what joins a square that is begun to what it
    stands on. (What stands on something begun may be cut off: it is only cast on instead.)
    ``left``: the units of each square that is not begun.
    """

    def __init__(self, plan: Plan, begun: Set[Place]) -> None:
        layout = plan.layout
        self.columns, self.rows = layout.columns, layout.rows
        self.places = list(plan.places)
        self.left = [0 if place in begun else plan.size[place] ** 2 for place in self.places]
        number = {place: square for square, place in enumerate(self.places)}
        self._square: dict[Place, int] = {}
        for place, square in number.items():
            for up in range(plan.size[place]):
                for right in range(plan.size[place]):
                    self._square[Place(place.column + right, place.row + up)] = square
        self.seams: list[Seam] = []
        self._joins: list[tuple[int, int]] = []  # of each seam that could be
        self._held: list[tuple[int, int]] = []  # squares that nothing parts
        # By line: the last unit beside it where something begun is in its way.
        self.blocked: dict[tuple[Along, int], int] = {}
        self._at: dict[tuple[Along, int, int], int] = {}  # by line, and the unit beside it
        for unit, square in self._square.items():
            for along in Along:
                self._look(unit, square, along, layout.seams, begun)

    def _look(
        self, unit: Place, square: int, along: Along, sewn: Set[Seam], begun: Set[Place]
    ) -> None:
        upright = along is Along.COLUMNS
        column, row = unit
        beyond = Place(column + 1, row) if upright else Place(column, row + 1)
        other = self._square.get(beyond)
        seam = Seam(unit, beyond)
        if other is None or other == square or seam in sewn:
            return
        where = (along, column, row) if upright else (along, row, column)
        if self.places[other] in begun:
            self._held.append((square, other))
            line, beside = where[:2], where[2]
            self.blocked[line] = max(beside, self.blocked.get(line, 0))
            return
        self._at[where] = len(self.seams)
        self.seams.append(seam)
        self._joins.append((square, other))

    def cut(self, stretches: Iterable[Stretch]) -> Parts:
        """Cloth cut along all of these, as far as it can be.

        A seam with the same panel on both sides would be sewn for nothing, so it is left out: what
        is cut goes round what is begun, or ends nowhere.
        """
        tried = {
            seam
            for along, line, after, to in stretches
            for unit in range(after + 1, to + 1)
            if (seam := self._at.get((along, line, unit))) is not None
        }
        return self._parts(tried)

    def of_cut(self, cut: Cut) -> Parts:
        return self.cut(cut.stretches(self.columns, self.rows))

    def split(self, parts: Parts, panel: Sequence[int], along: Along) -> Parts | None:
        """One ``panel`` cut by a straight line, as evenly as can be; None where nothing can be."""
        inside = set(panel)
        lines: defaultdict[int, set[int]] = defaultdict(set)
        for (way, line, _unit), seam in self._at.items():
            if way is along and inside.issuperset(self._joins[seam]):
                lines[line].add(seam)

        def unevenness(line: int) -> tuple[int, int]:
            sides = [self.left[square] for square in panel]
            first = [self.places[square][along is Along.ROWS] <= line for square in panel]
            return abs(sum(sides) - 2 * sum(map(mul, sides, first))), line

        for line in sorted(lines, key=unevenness):
            found = self._parts(parts.seams | lines[line])
            if len(found.panels) > len(parts.panels):
                return found
        return None

    def _parts(self, tried: Set[int]) -> Parts:
        panel = self._panels(tried)
        seams = frozenset(
            seam for seam in tried if panel[self._joins[seam][0]] != panel[self._joins[seam][1]]
        )
        squares: defaultdict[int, list[int]] = defaultdict(list)
        for square, label in enumerate(panel):
            squares[label].append(square)
        return Parts(seams, tuple(map(tuple, squares.values())))

    def left_at(self, column: int, row: int) -> int:
        """1 where a unit is to be knitted that is not begun, else 0."""
        square = self._square.get(Place(column, row))
        return int(square is not None and self.left[square] > 0)

    def bases(self, parts: Parts) -> list[int]:
        """How many squares of each panel stand on none: so many fabrics can be begun at once."""
        joins = [0] * len(self.places)
        for _one, other in self._held:
            joins[other] += 1
        for seam, (_one, other) in enumerate(self._joins):
            joins[other] += seam not in parts.seams
        return [sum(not joins[square] for square in panel) for panel in parts.panels]

    def told(self, seams: Collection[int]) -> frozenset[Seam]:
        return frozenset(self.seams[seam] for seam in seams)

    def _panels(self, seams: Collection[int]) -> list[int]:
        """By square: one that stands for its panel."""
        root = list(range(len(self.places)))

        def join(one: int, other: int) -> None:
            while root[one] != one:
                root[one] = one = root[root[one]]
            while root[other] != other:
                root[other] = other = root[root[other]]
            root[one] = other

        for one, other in self._held:
            join(one, other)
        for seam, (one, other) in enumerate(self._joins):
            if seam not in seams:
                join(one, other)
        for square in range(len(root)):
            while root[root[square]] != root[square]:
                root[square] = root[root[square]]
        return root
