"""What the map and the planner share: the frame around the squares, seams and missing places."""

from html import escape

from drives.craft.layout import Layout
from drives.craft.places import Place, letters

from .lines import zigzag
from .looks import INK, SHEET, SOFT, UNIT, Stroke, line

MARGIN = 38  # for the letters and the numbers along the edges
EDGE = 6  # room on the other two sides
FITS = 8  # columns that a narrow screen still shows large enough for a finger
FONT = 'font-family="Atkinson Hyperlegible, Verdana, sans-serif" font-weight="700"'


class Grid:
    """Where the places of ``layout`` lie in the drawing; A1 at the bottom left."""

    def __init__(self, layout: Layout) -> None:
        self.layout = layout
        self.bottom = EDGE + layout.rows * UNIT

    def corner(self, place: Place, size: int = 1) -> tuple[int, int]:
        """The top left corner of the square ``size`` units wide at ``place``."""
        column, row = place
        return MARGIN + (column - 1) * UNIT, self.bottom - (row - 1 + size) * UNIT

    def opening(self, title: str, *, links: bool, prefix: str, least: int = 44) -> str:
        """The ``<svg>`` tag and its title; ``least``: pixels along a unit where the map is wide."""
        columns = self.layout.columns
        width = MARGIN + columns * UNIT + EDGE
        height = self.bottom + MARGIN
        scale = min(max(680 // columns, least), 96) / UNIT
        kind = "map" if columns * least <= FITS * 44 else "map map-wide"
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="{kind}" '
            f'role="{"group" if links else "img"}" aria-labelledby="{prefix}-title" '
            f'width="{width * scale:.0f}" height="{height * scale:.0f}" '
            f'viewBox="0 0 {width} {height}"><title id="{prefix}-title">{escape(title)}</title>'
        )

    def missing(self) -> str:
        """A small cross in each missing place."""
        if not self.layout.missing:
            return ""
        where = [f"{x} {y}" for x, y in map(self.corner, sorted(self.layout.missing))]
        return line(SOFT, 2, "m24 24l12 12m0-12l-12 12").at(where)

    def seams(self) -> str:
        """A bold zigzag along every seam."""
        upright, level = [], []
        for first, second in sorted(self.layout.seams):
            x, y = self.corner(second)
            if first.row == second.row:
                upright.append(f"{x} {y}")
            else:
                level.append(f"{x} {y + UNIT}")
        parts = []
        for where, tail in (
            (upright, zigzag(UNIT, 6, 4, upright=True)),
            (level, zigzag(UNIT, 6, 4, upright=False)),
        ):
            if where:
                joined = ' stroke-linejoin="round" stroke-linecap="round"'
                parts += [
                    line(SHEET, 8, tail, joined).at(where),
                    line(INK, 3, tail, joined).at(where),
                ]
        return "".join(parts)

    def edges(self) -> str:
        """Letters below the columns, numbers beside the rows."""
        along = (
            f'<text x="{MARGIN + (column - 0.5) * UNIT:g}" y="{self.bottom + 26}">'
            f"{letters(column)}</text>"
            for column in range(1, self.layout.columns + 1)
        )
        up = (
            f'<text x="{MARGIN / 2:g}" y="{self.bottom - (row - 0.5) * UNIT + 7:g}">{row}</text>'
            for row in range(1, self.layout.rows + 1)
        )
        return (
            f'<g {FONT} fill="{SOFT}" font-size="19" text-anchor="middle" aria-hidden="true">'
            f"{''.join(along)}{''.join(up)}</g>"
        )


def plates(names: dict[int, list[str]]) -> str:
    """Pale plates under the names, by the length of the name."""
    return "".join(
        Stroke(
            f'fill="{SHEET}"',
            f"m6 6h{4 + length * _width(length)}v20h-{4 + length * _width(length)}z",
        ).at(where)
        for length, where in names.items()
    )


def name_text(name: str, x: int, y: int) -> str:
    small = ' font-size="14"' if len(name) > 3 else ""
    return f'<text x="{x + 8}" y="{y + 23}"{small}>{name}</text>'


def names(texts: list[str]) -> str:
    return f'<g {FONT} font-size="19" fill="{INK}">{"".join(texts)}</g>'


def _width(length: int) -> int:
    return 12 if length <= 3 else 9
