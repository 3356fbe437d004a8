"""What a wall map shows on one sheet, and how large. Lengths in mm."""

from typing import NamedTuple

from drives.craft.layout.layout import Layout
from drives.craft.places import Place

STRIP = 10
MARK = 5  # around the map, for the marks to cut along
WIDTH = 0.62  # of a letter, by its height
PALE = "#a59d92"  # what is drawn in it leaves room for a pencil


class YarnSign(NamedTuple):
    """The letter that stands for a yarn, and its colour as ``#rrggbb``, where it is shown."""

    letter: str
    colour: str = ""


class Scale(NamedTuple):
    """``unit``: the side of a square of one unit; ``letter``: the height of names at the edges.

    ``named`` where a name can be read within each square.
    """

    unit: float
    letter: float
    named: bool

    @property
    def edge(self) -> float:
        """Room for the names along an edge of the blanket."""
        return 1.9 * self.letter


class WallView(NamedTuple):
    """The part of ``layout`` from ``first``, at the bottom left, to ``last`` on one sheet.

    On the right and on top the next sheets are begun once more on a strip, onto which they are
    glued.
    """

    layout: Layout
    first: Place
    last: Place

    @property
    def columns(self) -> range:
        return range(self.first.column, self.last.column + 1)

    @property
    def rows(self) -> range:
        return range(self.first.row, self.last.row + 1)

    @property
    def ends_right(self) -> bool:
        return self.last.column == self.layout.columns

    @property
    def ends_above(self) -> bool:
        return self.last.row == self.layout.rows

    @property
    def whole(self) -> bool:
        return self.first == (1, 1) and self.ends_right and self.ends_above

    def beyond(self, edge: float) -> tuple[float, float, float, float]:
        """What is drawn around it on the left, below, on the right and on top."""
        return (
            edge if self.first.column == 1 else 0,
            edge if self.first.row == 1 else 0,
            edge if self.ends_right else STRIP,
            edge if self.ends_above else STRIP,
        )


def name_size(unit: float, length: int) -> float:
    """How high the letters of a name of this ``length`` are within a square."""
    return min(0.34 * unit, 0.86 * unit / (WIDTH * length), 8)
