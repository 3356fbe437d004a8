"""What a blanket looks like: the grid, its large squares, its missing places and its seams."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import NamedTuple

from drives.craft.places import LIMIT, Place

STITCHES = range(2, 201)
UNITS_WIDE = range(1, 11)


class Mitre(StrEnum):
    """How the stitches are decreased along the mitre."""

    PAIRED = "paired"
    CENTRED = "centred"


def side_stitches(units: int, stitches: int) -> int:
    """Stitches along one side of a square so many ``units`` wide, of ``stitches`` each."""
    return units * stitches


class Large(NamedTuple):
    """A square ``size`` units wide, named after its bottom-left place."""

    at: Place
    size: int

    def units(self) -> Iterator[Place]:
        column, row = self.at
        for up in range(self.size):
            for along in range(self.size):
                yield Place(column + along, row + up)


class Seam(NamedTuple):
    """Two neighbouring places whose common edge is not joined; ``first`` is left or below."""

    first: Place
    second: Place

    @classmethod
    def between(cls, one: Place, other: Place) -> "Seam":
        return cls(*sorted((one, other)))

    def neighbours(self) -> bool:
        columns, rows = self.second.column - self.first.column, self.second.row - self.first.row
        return (columns, rows) in {(1, 0), (0, 1)}


class Fault(StrEnum):
    """What can be wrong with a layout; beside each, the facts of its ``Problem``."""

    OUT_OF_RANGE = "out-of-range"  # low, high
    MISSING_OUTSIDE = "missing-outside"  # place
    NOTHING_LEFT = "nothing-left"
    LARGE_SIZE = "large-size"  # place, low, high
    LARGE_OUTSIDE = "large-outside"  # place, size
    LARGE_MISSING = "large-missing"  # unit, place
    LARGE_TWICE = "large-twice"  # place, and other, which is the same
    LARGE_OVERLAP = "large-overlap"  # place, other
    SEAM_OUTSIDE = "seam-outside"  # one, other
    SEAM_APART = "seam-apart"  # one, other
    SEAM_INSIDE = "seam-inside"  # one, other, square


class Problem(NamedTuple):
    """What is wrong with one part of a layout: the ``field`` it stands in, and its facts."""

    field: str
    fault: Fault
    facts: Mapping[str, object]


class InvalidLayout(ValueError):
    """A layout that cannot be knitted, with every problem found in it."""

    def __init__(self, problems: list[Problem]) -> None:
        super().__init__(", ".join(problem.fault for problem in problems))
        self.problems = problems


@dataclass(frozen=True)
class Layout:
    """A blanket to be worked: ``columns`` × ``rows`` units of ``stitches`` along one side.

    Every place that is not missing and not part of a large square is a square of one unit.
    """

    columns: int
    rows: int
    stitches: int
    mitre: Mitre = Mitre.PAIRED
    missing: frozenset[Place] = field(default=frozenset())
    large: frozenset[Large] = field(default=frozenset())
    seams: frozenset[Seam] = field(default=frozenset())
    corner_trade: bool = True  # paired mitre only: the centred one has a corner stitch instead

    def __contains__(self, place: Place) -> bool:
        return 1 <= place.column <= self.columns and 1 <= place.row <= self.rows


def problems(layout: Layout) -> list[Problem]:
    """Everything that is wrong with ``layout``, in a fixed order; empty when it can be knitted.

    Large squares that are together larger than the blanket are judged only until one must have
    been wrong, so that the time stays linear in the blanket's units.
    """
    found = [
        Problem(name, Fault.OUT_OF_RANGE, {"low": low, "high": high})
        for name, value, low, high in (
            ("columns", layout.columns, 1, LIMIT),
            ("rows", layout.rows, 1, LIMIT),
            ("stitches", layout.stitches, STITCHES[0], STITCHES[-1]),
        )
        if not low <= value <= high
    ]
    if found:
        return found  # nothing else can be judged on a grid that is not one
    found = _outside(layout)
    covered: dict[Place, Place] = {}
    room = layout.columns * layout.rows
    for square in sorted(layout.large):
        if room < 0:
            break
        found += _large_problems(layout, square, covered)
        room -= square.size**2 if square.size in UNITS_WIDE else 0
    for seam in sorted(layout.seams):
        found += _seam_problems(layout, seam, covered)
    if not found and len(layout.missing) == layout.columns * layout.rows:
        found.append(Problem("missing", Fault.NOTHING_LEFT, {}))
    return found


def _outside(layout: Layout) -> list[Problem]:
    return [
        Problem("missing", Fault.MISSING_OUTSIDE, {"place": place})
        for place in sorted(layout.missing)
        if place not in layout
    ]


def _large_problems(layout: Layout, square: Large, covered: dict[Place, Place]) -> list[Problem]:
    at, size = square
    if size not in UNITS_WIDE:
        facts: dict[str, object] = {"place": at, "low": UNITS_WIDE[0], "high": UNITS_WIDE[-1]}
        return [Problem("large", Fault.LARGE_SIZE, facts)]
    far = Place(at.column + size - 1, at.row + size - 1)
    if at not in layout or far not in layout:
        return [Problem("large", Fault.LARGE_OUTSIDE, {"place": at, "size": size})]
    units = list(square.units())
    found = [
        Problem("large", Fault.LARGE_MISSING, {"unit": unit, "place": at})
        for unit in units
        if unit in layout.missing
    ]
    for other in sorted({covered[unit] for unit in units if unit in covered}):
        fault = Fault.LARGE_TWICE if other == at else Fault.LARGE_OVERLAP
        found.append(Problem("large", fault, {"other": other, "place": at}))
    covered.update(dict.fromkeys(units, at))
    return found


def _seam_problems(layout: Layout, seam: Seam, covered: dict[Place, Place]) -> list[Problem]:
    facts: dict[str, object] = {"one": seam.first, "other": seam.second}
    if seam.first not in layout or seam.second not in layout:
        return [Problem("seams", Fault.SEAM_OUTSIDE, facts)]
    if not seam.neighbours():
        return [Problem("seams", Fault.SEAM_APART, facts)]
    if seam.first in covered and covered[seam.first] == covered.get(seam.second):
        facts["square"] = covered[seam.first]
        return [Problem("seams", Fault.SEAM_INSIDE, facts)]
    return []
