"""The drawing on which a blanket is planned: every place and every boundary can be pressed."""

from collections.abc import Callable, Iterable, Iterator
from html import escape

from drives.craft.layout.layout import Layout, Seam
from drives.craft.places import Place

from .grid import DrawingGrid, names
from .lines import box, tail
from .looks import INK, PALE, SHEET, SOFT, UNIT, Stroke, mitre, stroke

PIXELS = 72  # along a unit: leaves 24 for a boundary, the least that WCAG 2.2 (2.5.8) asks for
MOST_PRESSED = 40  # columns, or rows; a larger map is typed, for a browser would labour at it
ACROSS = UNIT * 24 // PIXELS


def planner_svg(
    layout: Layout,
    *,
    title: str,
    place_link: Callable[[Place], str],
    seam_link: Callable[[Place, Place], str],
    place_label: Callable[[Place], str],
    seam_label: Callable[[Place, Place], str],
    live: bool = False,
    prefix: str = "planner",
) -> str:
    """An ``<svg>`` of ``layout`` with links: for each square and each missing place, and for each
    boundary that is or could be a seam.

    The labels are the links' accessible names. The two places given for a boundary are a seam's
    ``first`` and ``second``. ``live`` repeats
    each address as ``hx-get``; by its id (``{prefix}-A1``, ``{prefix}-A1-B1``) a link keeps the
    keyboard's focus through a swap. Row by row from the bottom left: a place, then its right
    boundary, then its top one. The layout need not be a valid one.
    """
    grid = DrawingGrid(layout)
    owner = {unit: square.at for square in layout.large for unit in square.units()}
    size = {square.at: square.size for square in layout.large}

    def pressed(key: str, look: str, address: str, label: str, target: str) -> str:
        href = escape(address)
        more = f' hx-get="{href}"' if live else ""
        return (
            f'<a id="{prefix}-{key}" {look} href="{href}"{more} '
            f'aria-label="{escape(label)}">{target}</a>'
        )

    squares: dict[str, tuple[Place, int]] = {}
    open_boundaries: list[Seam] = []
    presses: list[str] = []
    for place in _places(layout):
        if owner.get(place, place) == place:
            key = str(place)
            squares[key] = place, size.get(place, 1)
            look = 'class="place missing"' if place in layout.missing else 'class="place"'
            target = _place_target(grid, *squares[key])
            presses.append(pressed(key, look, place_link(place), place_label(place), target))
        for other in (Place(place.column + 1, place.row), Place(place.column, place.row + 1)):
            if other not in layout or (place in owner and owner[place] == owner.get(other)):
                continue
            seam = Seam(place, other)
            look = 'class="boundary seam"' if seam in layout.seams else 'class="boundary"'
            if seam not in layout.seams:
                open_boundaries.append(seam)
            key, target = f"{place}-{other}", _boundary_target(grid, seam)
            presses.append(pressed(key, look, seam_link(*seam), seam_label(*seam), target))
    corners = {name: grid.corner(*square) for name, square in squares.items()}
    return "".join(
        [
            grid.opening(title, links=True, prefix=prefix, least=PIXELS),
            *_squares(grid, squares.values()),
            grid.missing(),
            *_handles(grid, open_boundaries),
            grid.seams(),
            names(corners),
            grid.edges(),
            '<g fill="none" pointer-events="all">',
            *presses,
            "</g></svg>",
        ]
    )


def _places(layout: Layout) -> Iterator[Place]:
    for row in range(1, layout.rows + 1):
        for column in range(1, layout.columns + 1):
            yield Place(column, row)


def _squares(grid: DrawingGrid, squares: Iterable[tuple[Place, int]]) -> Iterator[str]:
    """Squares with their mitres, and missing places as dashed gaps."""
    missing = grid.layout.missing
    for place, size in squares:
        x, y = grid.corner(place, size)
        side = size * UNIT
        if place in missing:
            gap = stroke(SOFT, 1.6, box(UNIT, 4), ' stroke-dasharray="5 4"')
            yield gap.at([f"{x} {y}"])
        else:
            ground = f'fill="{PALE}" stroke="{INK}" stroke-width="1.2"'
            yield Stroke(ground, box(side, 1)).at([f"{x} {y}"])
            yield stroke(SOFT, 1.6, mitre(side)).at([f"{x} {y}"])


def _handles(grid: DrawingGrid, boundaries: Iterable[Seam]) -> Iterator[str]:
    """A short bar on each boundary where a seam can be set."""
    rounded = ' stroke-linecap="round"'
    for seam in boundaries:
        x, y, upright = _middle(grid, seam)
        bar = tail([[(0, -7), (0, 7)] if upright else [(-7, 0), (7, 0)]])
        yield stroke(SHEET, 8, bar, rounded).at([f"{x} {y}"])
        yield stroke(SOFT, 3.5, bar, rounded).at([f"{x} {y}"])


def _middle(grid: DrawingGrid, seam: Seam) -> tuple[int, int, bool]:
    """The middle of a boundary, and whether it runs upright."""
    x, y = grid.corner(seam.second)
    if seam.first.row == seam.second.row:
        return x, y + UNIT // 2, True
    return x + UNIT // 2, y + UNIT, False


def _place_target(grid: DrawingGrid, place: Place, size: int) -> str:
    """The square without the margin that its boundaries' targets take."""
    x, y = grid.corner(place, size)
    side = size * UNIT - ACROSS
    return _target(x + ACROSS // 2, y + ACROSS // 2, side, side)


def _boundary_target(grid: DrawingGrid, seam: Seam) -> str:
    x, y, upright = _middle(grid, seam)
    along = UNIT - ACROSS
    width, height = (ACROSS, along) if upright else (along, ACROSS)
    return _target(x - width // 2, y - height // 2, width, height)


def _target(x: int, y: int, width: int, height: int) -> str:
    return f'<rect x="{x}" y="{y}" width="{width}" height="{height}"/>'
