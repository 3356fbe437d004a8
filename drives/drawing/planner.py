"""The drawing on which a blanket is planned: every place and every boundary can be pressed."""

from collections.abc import Callable, Iterator
from html import escape

from drives.craft.layout import Layout, Seam
from drives.craft.places import Place

from .grid import Grid, names
from .lines import box, tail
from .looks import INK, PALE, SHEET, SOFT, UNIT, Stroke, line, mitre

PIXELS = 72  # along a unit: leaves 24 for a boundary, the least that WCAG 2.2 (2.5.8) asks for
ACROSS = UNIT * 24 / PIXELS


def planner_svg(
    layout: Layout,
    *,
    title: str,
    place_link: Callable[[Place], str],
    seam_link: Callable[[Place, Place], str],
    place_label: Callable[[Place], str] | None = None,
    seam_label: Callable[[Place, Place], str] | None = None,
    live: bool = False,
    prefix: str = "planner",
) -> str:
    """An ``<svg>`` of ``layout`` with links: for each square and each missing place, and for each
    boundary that is or could be a seam.

    The two places given to ``seam_link`` are a seam's ``first`` and ``second``. ``live`` repeats
    each address as ``hx-get``, and by its id each link keeps the keyboard's focus. Row by row from the bottom left: a place, then its right
    boundary, then its top one. The layout need not be a valid one.
    """
    grid = Grid(layout)
    owner = {unit: square.at for square in layout.large for unit in square.units()}
    size = {square.at: square.size for square in layout.large}
    name_of_place = place_label or _place_label(layout)
    name_of_seam = seam_label or _seam_label(layout)

    def pressed(key: str, kind: str, address: str, label: str, within: str) -> str:
        href = escape(address)
        more = f' hx-get="{href}"' if live else ""
        return (
            f'<a id="{prefix}-{key}" class="{kind}" href="{href}"{more} '
            f'aria-label="{escape(label)}">{within}</a>'
        )

    squares: dict[int, list[str]] = {}
    named: dict[str, tuple[int, int]] = {}
    presses: list[str] = []
    handles: dict[bool, list[str]] = {True: [], False: []}
    for place in _places(layout):
        if owner.get(place, place) == place:
            units = size.get(place, 1)
            x, y = grid.corner(place, units)
            side = units * UNIT - ACROSS  # the boundaries' targets lie around it
            named[str(place)] = x, y
            kind = "place missing" if place in layout.missing else "place"
            if place not in layout.missing:
                squares.setdefault(units, []).append(f"{x} {y}")
            within = _target(x + ACROSS / 2, y + ACROSS / 2, side, side)
            presses.append(
                pressed(str(place), kind, place_link(place), name_of_place(place), within)
            )
        for other in (Place(place.column + 1, place.row), Place(place.column, place.row + 1)):
            if other not in layout or (place in owner and owner[place] == owner.get(other)):
                continue
            x, y = grid.corner(other)
            upright = other.row == place.row
            if not upright:
                y += UNIT
            seam = Seam(place, other)
            kind = "boundary seam" if seam in layout.seams else "boundary"
            if seam not in layout.seams:
                handles[upright].append(f"{x} {y}")
            within = (
                _target(x - ACROSS / 2, y + ACROSS / 2, ACROSS, UNIT - ACROSS)
                if upright
                else _target(x + ACROSS / 2, y - ACROSS / 2, UNIT - ACROSS, ACROSS)
            )
            key = f"{place}-{other}"
            presses.append(pressed(key, kind, seam_link(*seam), name_of_seam(*seam), within))

    parts = [grid.opening(title, links=True, prefix=prefix, least=PIXELS)]
    for units, where in sorted(squares.items()):
        side = units * UNIT
        parts.append(
            Stroke(f'fill="{PALE}" stroke="{INK}" stroke-width="1.2"', box(side, 1)).at(where)
        )
        parts.append(line(SOFT, 1.6, mitre(side)).at(where))
    if layout.missing:
        gaps = [f"{x} {y}" for x, y in map(grid.corner, sorted(layout.missing))]
        parts.append(line(SOFT, 1.6, box(UNIT, 4), ' stroke-dasharray="5 4"').at(gaps))
    parts.append(grid.missing())
    for upright, where in handles.items():
        if where:
            ends = [(0, 23), (0, 37)] if upright else [(23, 0), (37, 0)]
            round_ends = ' stroke-linecap="round"'
            parts.append(line(SHEET, 8, tail([ends]), round_ends).at(where))
            parts.append(line(SOFT, 3.5, tail([ends]), round_ends).at(where))
    parts += [grid.seams(), names(named), grid.edges()]
    parts += ['<g fill="none" pointer-events="all">', *presses, "</g></svg>"]
    return "".join(parts)


def _places(layout: Layout) -> Iterator[Place]:
    for row in range(1, layout.rows + 1):
        for column in range(1, layout.columns + 1):
            yield Place(column, row)


def _target(x: float, y: float, width: float, height: float) -> str:
    return f'<rect x="{x:g}" y="{y:g}" width="{width:g}" height="{height:g}"/>'


def _place_label(layout: Layout) -> Callable[[Place], str]:
    return lambda place: f"{place}, missing" if place in layout.missing else str(place)


def _seam_label(layout: Layout) -> Callable[[Place, Place], str]:
    def label(first: Place, second: Place) -> str:
        state = "a seam" if Seam(first, second) in layout.seams else "joined"
        return f"Between {first} and {second}: {state}"

    return label
