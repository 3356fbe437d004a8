"""From a wanted size back to a plan: which squares, how many, and by how much they miss."""

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil

from drives.craft.places import LIMIT

from .layout import Layout, side_stitches
from .plan import Plan
from .rows import worked

CM_PER_INCH = 2.54
# Squares that circles usually knit: big enough to be worth a foundation, small enough to carry.
USUAL_STITCHES = range(12, 49)
ROUNDING = 1e-6  # cm, or units: what floats are off


@dataclass(frozen=True)
class Size:
    """A grid and the size in cm that it really gives, and its miss (real minus wanted)."""

    stitches: int
    columns: int
    rows: int
    width: float
    height: float
    width_miss: float
    height_miss: float

    @property
    def squares(self) -> int:
        return self.columns * self.rows

    @property
    def miss(self) -> float:
        """The larger of the two misses as a share of the wanted length."""
        return max(
            abs(self.width_miss) / (self.width - self.width_miss),
            abs(self.height_miss) / (self.height - self.height_miss),
        )


def side(stitches: int, gauge: float) -> float:
    """The side in cm of a square; ``gauge`` in stitches to 10 cm of garter stitch."""
    return stitches / gauge * 10


def whole_size(layout: Layout, gauge: float, border: int = 0) -> tuple[float, float]:
    """Width and height in cm of the grid of ``layout`` with a border of so many garter ridges."""
    around = 2 * side(border, gauge)  # a ridge is as tall as a stitch is wide
    unit = side(layout.stitches, gauge)
    return layout.columns * unit + around, layout.rows * unit + around


def stitches_worked(plan: Plan) -> int:
    """The stitches worked in all squares, their foundations included; no border."""
    layout = plan.layout
    return sum(
        squares * worked(side_stitches(size, layout.stitches), layout.mitre)
        for size, squares in Counter(plan.size.values()).items()
    )


def nearest_sizes(
    width: float,
    height: float,
    gauge: float,
    stitches: Iterable[int] = USUAL_STITCHES,
    most: int = 6,
    border: int = 0,
    at_least: bool = False,
) -> list[Size]:
    """The ``most`` grids that come nearest to ``width`` × ``height`` cm, the nearest first.

    For each number of stitches the best grid; misses that are equal to a half per cent are
    ordered by the smaller number of squares. Lengths and gauge must be positive. ``border``:
    garter ridges knitted around all squares, which the sizes include. ``at_least``: none is smaller
    than wanted, on neither side.
    """
    found = [_fit(width, height, gauge, n, border, at_least) for n in stitches]
    if at_least:
        found = [size for size in found if min(size.width_miss, size.height_miss) > -ROUNDING]
    return sorted(found, key=lambda size: (round(size.miss * 200), size.squares))[:most]


def _fit(
    width: float, height: float, gauge: float, stitches: int, border: int, at_least: bool
) -> Size:
    unit = side(stitches, gauge)
    around = 2 * side(border, gauge)  # a ridge is as tall as a stitch is wide

    def units(length: float) -> int:
        wanted = (length - around) / unit
        found = ceil(wanted - ROUNDING) if at_least else round(wanted)
        return min(max(found, 1), LIMIT)

    columns, rows = units(width), units(height)
    real_width, real_height = columns * unit + around, rows * unit + around
    return Size(
        stitches, columns, rows, real_width, real_height, real_width - width, real_height - height
    )
