"""What a blanket looks like: the grid, its large squares, its missing places and its seams."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from enum import StrEnum
from typing import NamedTuple

from drives.craft.places import LIMIT, Place

STITCHES = range(2, 201)
SIZES = range(1, 11)


class Mitre(StrEnum):
    """How the stitches are decreased along the mitre."""

    PAIRED = "paired"
    CENTRED = "centred"


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


class Problem(NamedTuple):
    """What is wrong with one part of a layout; ``message`` is filled in from ``facts``."""

    field: str
    message: str
    facts: dict[str, object]

    @property
    def detail(self) -> str:
        return self.message.format(**self.facts)


class InvalidLayout(ValueError):
    """A layout that cannot be knitted, with every problem found in it."""

    def __init__(self, problems: list[Problem]) -> None:
        super().__init__(" ".join(problem.detail for problem in problems))
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
        Problem(
            name, "{what} must be from {low} to {high}.", {"what": what, "low": low, "high": high}
        )
        for name, what, value, low, high in (
            ("columns", "The number of columns", layout.columns, 1, LIMIT),
            ("rows", "The number of rows", layout.rows, 1, LIMIT),
            ("stitches", "The stitches along one side", layout.stitches, STITCHES[0], STITCHES[-1]),
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
        room -= square.size**2 if square.size in SIZES else 0
    for seam in sorted(layout.seams):
        found += _seam_problems(layout, seam, covered)
    if not found and len(layout.missing) == layout.columns * layout.rows:
        found.append(
            Problem("missing", "Every place is missing; leave at least one square to knit.", {})
        )
    return found


def _outside(layout: Layout) -> list[Problem]:
    return [
        Problem("missing", "{place} lies outside the blanket.", {"place": place})
        for place in sorted(layout.missing)
        if place not in layout
    ]


def _large_problems(layout: Layout, square: Large, covered: dict[Place, Place]) -> list[Problem]:
    at, size = square
    if size not in SIZES:
        text = "The square at {place} must be from {low} to {high} units wide."
        return [Problem("large", text, {"place": at, "low": SIZES[0], "high": SIZES[-1]})]
    far = Place(at.column + size - 1, at.row + size - 1)
    if at not in layout or far not in layout:
        text = "The square at {place}, {size} units wide, reaches outside the blanket."
        return [Problem("large", text, {"place": at, "size": size})]
    units = list(square.units())
    found = []
    for unit in units:
        if unit in layout.missing:
            text = "{unit} is a missing place inside the large square at {place}."
            found.append(Problem("large", text, {"unit": unit, "place": at}))
    for other in sorted({covered[unit] for unit in units if unit in covered}):
        text = "The squares at {other} and {place} overlap."
        if other == at:
            text = "Two squares begin at {place}."
        found.append(Problem("large", text, {"other": other, "place": at}))
    covered.update(dict.fromkeys(units, at))
    return found


def _seam_problems(layout: Layout, seam: Seam, covered: dict[Place, Place]) -> list[Problem]:
    facts: dict[str, object] = {"one": seam.first, "other": seam.second}
    if seam.first not in layout or seam.second not in layout:
        return [
            Problem("seams", "The seam between {one} and {other} lies outside the blanket.", facts)
        ]
    if not seam.neighbours():
        return [
            Problem(
                "seams",
                "{one} and {other} are not neighbours, so no seam lies between them.",
                facts,
            )
        ]
    if seam.first in covered and covered[seam.first] == covered.get(seam.second):
        facts["square"] = covered[seam.first]
        return [
            Problem(
                "seams",
                "{one} and {other} are parts of one square ({square}); no seam can cut it.",
                facts,
            )
        ]
    return []
