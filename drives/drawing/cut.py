"""A small picture of how a blanket is cut: its pieces, their seams, what is finished."""

from collections import defaultdict
from collections.abc import Set
from typing import NamedTuple

from drives.craft.layout.layout import Seam
from drives.craft.layout.plan import Plan
from drives.craft.places import Place

from .looks import INK, PALE, SOFT, Stroke

LONGER_SIDE = 200  # pixels of the longer side
GAP = 0.3  # units that a square draws back from a seam
MARGIN = 0.5  # pixels around each square


class _Box(NamedTuple):
    """How a square is drawn: its units, the sides at which a seam lies, and its colour."""

    size: int
    left: bool
    right: bool
    above: bool
    below: bool
    fill: str

    def stroke(self, unit: float) -> Stroke:
        left, right, above, below = (
            unit * GAP if seam else MARGIN
            for seam in (self.left, self.right, self.above, self.below)
        )
        side = self.size * unit
        wide, high = side - left - right, side - above - below
        return Stroke(
            f'fill="{self.fill}" stroke="{SOFT}" stroke-width="0.7"',
            f"m{left:.4g} {above:.4g}h{wide:.4g}v{high:.4g}h{-wide:.4g}z",
        )


def cut_svg(plan: Plan, finished: Set[Place]) -> str:
    """An ``<svg>`` of ``plan`` with its panels drawn apart; ``finished`` squares are dark.

    It says nothing without the words beside it.
    """
    columns, rows = plan.layout.columns, plan.layout.rows
    unit = max(3.0, min(LONGER_SIDE / columns, LONGER_SIDE / rows, 24.0))
    corners: defaultdict[_Box, list[str]] = defaultdict(list)
    for place, size in plan.size.items():
        box = _box(place, size, plan.layout.seams, INK if place in finished else PALE)
        x, y = (place.column - 1) * unit, (rows + 1 - place.row - size) * unit
        corners[box].append(f"{x:.4g} {y:.4g}")
    drawn = [box.stroke(unit).at(where) for box, where in corners.items()]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="cut" aria-hidden="true" '
        f'width="{columns * unit:.0f}" height="{rows * unit:.0f}" '
        f'viewBox="0 0 {columns * unit:.4g} {rows * unit:.4g}">{"".join(drawn)}</svg>'
    )


def _box(place: Place, size: int, seams: Set[Seam], fill: str) -> _Box:
    column, row = place
    along = range(size)
    return _Box(
        size,
        left=any(_upright(column - 1, row + up) in seams for up in along),
        right=any(_upright(column + size - 1, row + up) in seams for up in along),
        above=any(_level(column + right, row + size - 1) in seams for right in along),
        below=any(_level(column + right, row - 1) in seams for right in along),
        fill=fill,
    )


def _upright(column: int, row: int) -> Seam:
    return Seam(Place(column, row), Place(column + 1, row))


def _level(column: int, row: int) -> Seam:
    return Seam(Place(column, row), Place(column, row + 1))
