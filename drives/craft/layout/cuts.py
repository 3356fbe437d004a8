"""Ways to cut a rectangle: into strips from edge to edge, and each strip across by itself."""

from collections.abc import Iterator
from enum import StrEnum
from itertools import combinations, islice
from typing import NamedTuple


class Along(StrEnum):
    """What each strip is a strip of."""

    COLUMNS = "columns"
    ROWS = "rows"

    @property
    def other(self) -> "Along":
        return Along.ROWS if self is Along.COLUMNS else Along.COLUMNS


class Stretch(NamedTuple):
    """A part of a line: the one after so many columns (rows), beside the units ``after`` to ``to``.

    Line 1 lies between the first and the second column; (0, 3) is beside the first three rows.
    """

    along: Along
    line: int
    after: int
    to: int


class Cut(NamedTuple):
    """Strips ``along`` columns or rows: the lines between them, and those across each one.

    Lines that go across all strips alike make crossed panels. There is one more strip than lines.
    """

    along: Along
    lines: tuple[int, ...]
    across: tuple[tuple[int, ...], ...]

    def stretches(self, columns: int, rows: int) -> list[Stretch]:
        """All that is to be cut of a rectangle of so many units."""
        wide, long = (columns, rows) if self.along is Along.COLUMNS else (rows, columns)
        found = [Stretch(self.along, line, 0, long) for line in self.lines]
        edges = [0, *self.lines, wide]
        for strip, lines in enumerate(self.across):
            found += [
                Stretch(self.along.other, line, edges[strip], edges[strip + 1]) for line in lines
            ]
        return found

    @property
    def simple(self) -> tuple[int, int]:
        """The less, the sooner it is understood: the lines that it lies on, and its stretches."""
        crossing = {line for lines in self.across for line in lines}
        stretches = len(self.lines) + sum(map(len, self.across))
        return len(self.lines) + len(crossing), stretches


def every_cut(columns: int, rows: int, most: int, limit: int) -> tuple[int, list[Cut]]:
    """All cuts into 2 to ``most`` parts, or to as many as make no more than ``limit`` cuts.

    With the parts of the last ones.
    """
    found: list[Cut] = []
    for parts in range(2, most + 1):
        more = list(islice(_into(columns, rows, parts), limit - len(found) + 1))
        if len(found) + len(more) > limit:
            return parts - 1, found
        found += more
    return most, found


def _into(columns: int, rows: int, parts: int) -> Iterator[Cut]:
    for along, wide, long in (
        (Along.COLUMNS, columns, rows),
        (Along.ROWS, rows, columns),
    ):
        for strips in range(1, parts + 1):
            for lines in combinations(range(1, wide), strips - 1):
                for across in _across(long, strips, parts - strips):
                    yield Cut(along, lines, across)


def _across(long: int, strips: int, lines: int) -> Iterator[tuple[tuple[int, ...], ...]]:
    """Every way to put so many lines across so many strips."""
    if not strips:
        if not lines:
            yield ()
        return
    for here in range(min(lines, long - 1) + 1):
        rests = list(_across(long, strips - 1, lines - here))
        for chosen in combinations(range(1, long), here):
            for rest in rests:
                yield (chosen, *rest)
