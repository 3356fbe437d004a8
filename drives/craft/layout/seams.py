"""Straight seams from edge to edge: where they can go, and which make the evenest panels."""

from collections.abc import Set
from dataclasses import dataclass
from enum import StrEnum
from functools import cached_property
from itertools import accumulate

from drives.craft.places import Place

from .layout import Seam
from .plan import Plan


class Along(StrEnum):
    """What each panel is a strip of."""

    COLUMNS = "columns"
    ROWS = "rows"


@dataclass(frozen=True)
class Cutting:
    """The ways to cut a blanket into strips ``along`` its columns or its rows.

    Line 1 lies between the first and the second column (row), and so on. A panel is a strip that
    holds something unfinished.
    """

    plan: Plan
    along: Along
    finished: Set[Place]
    begun: Set[Place]  # the finished ones too

    @cached_property
    def new_seams(self) -> dict[int, frozenset[Seam]]:
        """What each possible line adds to the seams; nothing where the blanket is cut already.

        No line goes through a large square, or cuts off a square that is begun from what it
        stands on. (What stands on something begun may be cut off: it is only cast on instead.)
        """
        found = {}
        for line in range(1, self._length):
            seams = frozenset(seam for seam in self._crossed(line) if self._joined(seam))
            owners = [(self._owner[one], self._owner[other]) for one, other in seams]
            if all(one != other and other not in self.begun for one, other in owners):
                found[line] = seams
        return found

    @cached_property
    def standing(self) -> int:
        """Panels along this way as the blanket is."""
        ends = [*self._fixed, self._length]
        starts = [0, *self._fixed]
        return sum(map(self._positive, starts, ends))

    def lines(self, panels: int) -> tuple[int, ...] | None:
        """The lines that make ``panels`` panels as even as can be, those cut already included.

        Even: the smallest sum of the squares of the units left to knit in each; of equal ones the
        leftmost (lowest). None when so many panels cannot be made.
        """
        ends = sorted({*self.new_seams, self._length})
        # By the end of the last strip and the panels so far: the cost, and the lines.
        best: dict[tuple[int, int], tuple[int, tuple[int, ...]]] = {(0, 0): (0, ())}
        for end in ends:
            for start in [0, *(line for line in ends if line < end)]:
                if not self._strip(start, end):
                    continue
                units = self._before[end] - self._before[start]
                for count in range(panels + 1):
                    if (start, count) not in best:
                        continue
                    cost, cut = best[start, count]
                    way = cost + units**2, (*cut, end)
                    key = end, count + (units > 0)
                    best[key] = min(way, best.get(key, way))
        found = best.get((self._length, panels))
        return found and found[1][:-1]

    def seams(self, panels: int) -> frozenset[Seam] | None:
        """The new seams of ``lines``."""
        lines = self.lines(panels)
        if lines is None:
            return None
        return frozenset(seam for line in lines for seam in self.new_seams[line])

    @cached_property
    def _length(self) -> int:
        layout = self.plan.layout
        return layout.columns if self.along is Along.COLUMNS else layout.rows

    @cached_property
    def _owner(self) -> dict[Place, Place]:
        """The square that each unit belongs to; missing places are not there."""
        return {
            Place(place.column + right, place.row + up): place
            for place, size in self.plan.size.items()
            for right in range(size)
            for up in range(size)
        }

    def _crossed(self, line: int) -> list[Seam]:
        layout = self.plan.layout
        if self.along is Along.COLUMNS:
            return [
                Seam(Place(line, row), Place(line + 1, row)) for row in range(1, layout.rows + 1)
            ]
        return [
            Seam(Place(column, line), Place(column, line + 1))
            for column in range(1, layout.columns + 1)
        ]

    def _joined(self, seam: Seam) -> bool:
        """Whether both places are there and something is joined between them, or inside of one."""
        return (
            seam.first in self._owner
            and seam.second in self._owner
            and seam not in self.plan.layout.seams
        )

    @cached_property
    def _fixed(self) -> list[int]:
        """The lines along which the blanket is cut already."""
        return [line for line, seams in self.new_seams.items() if not seams]

    @cached_property
    def _before(self) -> list[int]:
        """Units left to knit before each line."""
        units = [0] * self._length
        for unit, square in self._owner.items():
            if square not in self.finished:
                units[(unit.column if self.along is Along.COLUMNS else unit.row) - 1] += 1
        return [0, *accumulate(units)]

    def _positive(self, start: int, end: int) -> bool:
        return self._before[end] > self._before[start]

    def _strip(self, start: int, end: int) -> bool:
        """Whether this can be one strip: of one panel, and not one cut off for nothing."""
        if any(start < line < end for line in self._fixed):
            return False
        edges = {0, self._length, *self._fixed}
        return self._positive(start, end) or {start, end} <= edges
