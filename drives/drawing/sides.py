"""The measures of the square's diagram, and where things lie along its two foundation sides."""

from collections.abc import Iterator
from typing import NamedTuple

from .lines import Point
from .runs import StepRun

SIDE = 200
X, TOP = 114, 30  # the square's top left corner
FOOT = TOP + SIDE
GAP = 9  # between the square and its neighbours, where the picked-up stitches are drawn
INSET = 24  # from the edges to the way along them
STRIP = 96  # room for words on the left


class SideStretch(NamedTuple):
    """Part of one side, in units of the drawing along the path from the bottom right corner."""

    upright: bool
    start: float
    end: float

    @property
    def middle(self) -> float:
        return (self.start + self.end) / 2

    @property
    def room(self) -> float:
        return self.end - self.start

    def at(self, along: float, out: float = 0) -> Point:
        """The point ``along`` the path, ``out`` of the square."""
        if self.upright:
            return X - out, FOOT - (along - SIDE)
        return X + SIDE - along, FOOT + out

    def clear(self, corner: float) -> "SideStretch":
        """What lies at least ``corner`` from the corner."""
        if self.upright:
            return self._replace(start=max(self.start, SIDE + corner))
        return self._replace(end=min(self.end, SIDE - corner))


def side_stretches(run: StepRun, unit: float) -> Iterator[SideStretch]:
    """The parts of ``run`` on the bottom and on the left side; ``unit``: the side of one unit."""
    start, end = run.start * unit, run.end * unit
    if start < SIDE:
        yield SideStretch(False, start, min(end, SIDE))
    if end > SIDE:
        yield SideStretch(True, max(start, SIDE), end)
