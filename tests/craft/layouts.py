"""Random layouts: squares of several sizes in any mix, holes, seams, both mitres."""

from collections.abc import Iterable
from random import Random
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st

from drives.craft.layout.layout import Large, Layout, Mitre, Seam
from drives.craft.places import Place

# Derandomized: the same examples in every run, so that a red build is red for its change.
thoroughly = settings(max_examples=120, derandomize=True, deadline=None)


def grid_of(columns: int, rows: int) -> list[Place]:
    return [Place(column, row) for column in range(1, columns + 1) for row in range(1, rows + 1)]


def without_overlap(wanted: Iterable[Large], grid: Iterable[Place]) -> frozenset[Large]:
    """Those of the ``wanted`` squares that still fit when their turn comes."""
    free = set(grid)
    found = set()
    for square in wanted:
        units = set(square.units())
        if units <= free:
            free -= units
            found.add(square)
    return frozenset(found)


def possible_seams(grid: Iterable[Place], large: Iterable[Large]) -> list[Seam]:
    """Every pair of neighbouring places that are not parts of one square."""
    owner = {place: place for place in grid}
    owner |= {unit: square.at for square in large for unit in square.units()}
    return [
        Seam(unit, beside)
        for unit in owner
        for beside in (Place(unit.column + 1, unit.row), Place(unit.column, unit.row + 1))
        if beside in owner and owner[unit] != owner[beside]
    ]


@st.composite
def layouts(draw: st.DrawFn, most: int = 12) -> Layout:
    """Layouts of up to ``most`` × ``most`` units with at least one square."""

    def some(things: list[Any], most: int) -> frozenset[Any]:
        """Up to ``most`` of ``things``, as often many as few."""
        count = draw(st.integers(0, most)) if things else 0
        return frozenset(things[draw(st.integers(0, len(things) - 1))] for _ in range(count))

    mitre, corner_trade = draw(st.sampled_from(Mitre)), draw(st.booleans())
    columns, rows = draw(st.integers(1, most)), draw(st.integers(1, most))
    grid = grid_of(columns, rows)
    wanted = [Large(at, draw(st.integers(1, 4))) for at in sorted(some(grid, 15))]
    large = without_overlap(wanted, grid)
    covered = {unit for square in large for unit in square.units()}
    return Layout(
        columns=columns,
        rows=rows,
        stitches=draw(st.integers(2, 30)),
        mitre=mitre,
        missing=some([unit for unit in grid if unit not in covered], len(grid) // 4),
        large=large,
        seams=some(possible_seams(grid, large), 12),
        corner_trade=corner_trade,
    )


def drawn_by(random: Random, side: int) -> Layout:
    """One ``side`` × ``side`` layout, full of squares of up to 10 units, holes and seams."""
    grid = grid_of(side, side)
    wanted = [Large(at, random.randint(2, 10)) for at in random.sample(grid, k=len(grid) // 2)]
    large = without_overlap(wanted, grid)
    covered = {unit for square in large for unit in square.units()}
    single = [unit for unit in grid if unit not in covered]
    seams = possible_seams(grid, large)
    return Layout(
        columns=side,
        rows=side,
        stitches=random.randint(2, 30),
        mitre=random.choice(list(Mitre)),
        missing=frozenset(random.sample(single, k=len(single) // 5)),
        large=large,
        seams=frozenset(random.sample(seams, k=len(seams) // 8)),
    )
