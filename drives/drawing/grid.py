"""What the map and the planner share: the frame around the squares, seams and missing places."""

from collections.abc import Mapping
from html import escape

from drives.craft.layout.layout import Layout
from drives.craft.places import Place, letters

from .lines import zigzag
from .looks import INK, SHEET, SOFT, UNIT, Stroke, stroke

MARGIN = 38  # for the letters and the numbers along the edges
ORIGIN = Place(1, 1)
EDGE = 6  # room on the other two sides
FITS = 8  # columns that a narrow screen still shows large enough for a finger
NAME_SIZES = {2: 19, 3: 17, 4: 13}  # of a name's letters, by the length of the name
CROSS = "m24 24l12 12m0-12l-12 12"
FONT = 'font-family="Atkinson Hyperlegible, Verdana, sans-serif" font-weight="700"'


class DrawingGrid:
    """Where the places of ``layout`` lie in the drawing, from ``first``, at the bottom left.

    ``first`` and ``last`` (at the top right) bound the drawing where it shows only a part.
    """

    def __init__(self, layout: Layout, first: Place = ORIGIN, last: Place | None = None) -> None:
        self.layout = layout
        self.first, self.last = first, last or Place(layout.columns, layout.rows)
        self.columns = range(first.column, self.last.column + 1)
        self.rows = range(first.row, self.last.row + 1)
        self.bottom = EDGE + len(self.rows) * UNIT
        self._x = MARGIN - first.column * UNIT
        self._y = self.bottom + first.row * UNIT

    def __contains__(self, place: Place) -> bool:
        return place.column in self.columns and place.row in self.rows

    def corner(self, place: Place, size: int = 1) -> tuple[int, int]:
        """The top left corner of the square ``size`` units wide at ``place``."""
        return self._x + place[0] * UNIT, self._y - (place[1] + size) * UNIT

    def opening(self, title: str, *, links: bool, prefix: str, least: int = 44) -> str:
        """The ``<svg>`` tag and its title; ``least``: pixels along a unit where the map is wide."""
        columns = len(self.columns)
        width = MARGIN + columns * UNIT + EDGE
        height = self.bottom + MARGIN
        scale = min(max(680 // columns, least), 96) / UNIT
        look = 'class="map"' if columns * least <= FITS * 44 else 'class="map map-wide"'
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" {look} '
            f'role="{"group" if links else "img"}" aria-labelledby="{prefix}-title" '
            f'width="{width * scale:.0f}" height="{height * scale:.0f}" '
            f'viewBox="0 0 {width} {height}"><title id="{prefix}-title">{escape(title)}</title>'
        )

    def missing(self) -> str:
        """A small cross in each missing place."""
        where = [place for place in sorted(self.layout.missing) if place in self]
        if not where:
            return ""
        corners = [f"{x} {y}" for x, y in map(self.corner, where)]
        return stroke(SOFT, 2, CROSS, ' class="missing"').at(corners)

    def seams(self) -> str:
        """A bold zigzag along every seam."""
        upright, level = [], []
        for first, second in sorted(self.layout.seams):
            if first not in self or second not in self:
                continue
            x, y = self.corner(second)
            if first.row == second.row:
                upright.append(f"{x} {y}")
            else:
                level.append(f"{x} {y + UNIT}")
        return "".join(
            stroke.at(where)
            for where, direction in ((upright, True), (level, False))
            if where
            for stroke in seam(upright=direction)
        )

    def edges(self) -> str:
        """Letters below the columns, numbers beside the rows."""
        along = (
            f'<text x="{MARGIN + (index + 0.5) * UNIT:g}" y="{self.bottom + 26}">'
            f"{letters(column)}</text>"
            for index, column in enumerate(self.columns)
        )
        up = (
            f'<text x="{MARGIN / 2:g}" y="{self.bottom - (index + 0.5) * UNIT + 7:g}">{row}</text>'
            for index, row in enumerate(self.rows)
        )
        return (
            f'<g {FONT} fill="{SOFT}" font-size="19" text-anchor="middle" aria-hidden="true">'
            f"{''.join(along)}{''.join(up)}</g>"
        )


def seam(*, upright: bool) -> tuple[Stroke, ...]:
    """The zigzag along one unit, as a seam is sewn."""
    sewn = zigzag(UNIT, 6, 4, upright=upright)
    joined = ' stroke-linejoin="round" stroke-linecap="round"'
    return stroke(SHEET, 8, sewn, joined), stroke(INK, 3, sewn, f' class="seam"{joined}')


def names(corners: Mapping[str, tuple[int, int]]) -> str:
    """Names in the top left halves of squares, on pale plates; ``corners`` by name."""
    by_length: dict[int, list[str]] = {}
    for name in corners:
        by_length.setdefault(len(name), []).append(name)
    parts = []
    for length, alike in sorted(by_length.items()):
        size = NAME_SIZES.get(length, 12)
        width = round(length * size * 0.62) + 4
        plate = Stroke(f'class="plate" fill="{SHEET}"', f"m6 6h{width}v{size}h-{width}z")
        parts.append(plate.at([f"{x} {y}" for x, y in map(corners.__getitem__, alike)]))
        parts.append(
            f'<g {FONT} font-size="{size}" fill="{INK}" transform="translate(8 {size + 3})">'
        )
        for name in alike:
            x, y = corners[name]
            parts.append(f'<text x="{x}" y="{y}">{name}</text>')
        parts.append("</g>")
    return "".join(parts)
