"""The map of a colour plan: every square in its yarn's colour, with its pattern and number."""

from collections.abc import Callable, Mapping, Set
from html import escape

from drives.craft.layout.plan import Plan
from drives.craft.places import Place

from .grid import FONT, DrawingGrid, names
from .lines import box
from .looks import INK, PALE, SHEET, SOFT, UNIT, Stroke, stroke
from .weaves import key, woven

MOST_NAMED = 60  # columns, or rows, up to which squares bear their names and numbers


def colour_map_svg(
    plan: Plan,
    colours: Mapping[Place, str],
    palette: Mapping[str, str],
    *,
    title: str,
    finished: Set[Place] = frozenset(),
    chosen: Set[Place] = frozenset(),
    marked: Set[Place] = frozenset(),
    press: Callable[[Place], str] | None = None,
    prefix: str = "colours",
) -> str:
    """An ``<svg class="map">``; ``palette``: #rrggbb by the name of each colour, in order.

    ``finished`` squares have a bold frame; those whose colour was ``chosen``, a pin. With
    ``press`` each square is a link to that address, which htmx gets, and those that are
    ``marked`` have a bolder frame.
    """
    grid, number = DrawingGrid(plan.layout), {name: at for at, name in enumerate(palette, start=1)}
    far = max(plan.layout.columns, plan.layout.rows) > MOST_NAMED
    corners = {place: grid.corner(place, plan.size[place]) for place in plan.places}
    alike: dict[tuple[int, str, int], list[str]] = {}
    keys: list[str] = []
    for place, (x, y) in corners.items():
        name, side = colours.get(place, ""), plan.size[place] * UNIT
        alike.setdefault((number.get(name, 0), palette.get(name, ""), side), []).append(f"{x} {y}")
        if name in number and not far:
            keys.append(key(number[name], x + side - 3, y + side - 3))

    def framed(places: Set[Place], frame: Callable[[int], tuple[Stroke, ...]]) -> str:
        return "".join(
            drawn.at([f"{x} {y}"])
            for place in sorted(places)
            for x, y in [corners[place]]
            for drawn in frame(plan.size[place] * UNIT)
        )

    links = [
        _link(place, corners[place], plan.size[place] * UNIT, press(place), colours, prefix)
        for place in plan.places
        if press
    ]
    return "".join(
        [
            grid.opening(title, links=bool(links), prefix=prefix),
            grid.missing(),
            *(
                drawn.at(where)
                for (at, value, side), where in alike.items()
                for drawn in (woven(at, value, side) if value else _bare(side))
            ),
            framed(
                finished,
                lambda side: (stroke(SHEET, 8, box(side, 4)), stroke(INK, 4, box(side, 3))),
            ),
            framed(chosen, _pin),
            framed(
                marked, lambda side: (stroke(SHEET, 12, box(side, 6)), stroke(INK, 6, box(side, 5)))
            ),
            grid.seams(),
            "" if far else names({str(place): corner for place, corner in corners.items()}),
            f'<g {FONT} font-size="19" fill="{INK}" text-anchor="middle">{"".join(keys)}</g>',
            grid.edges(),
            '<g fill="none" pointer-events="all">',
            *links,
            "</g></svg>",
        ]
    )


def _bare(side: int) -> tuple[Stroke, ...]:
    """A square without a colour."""
    frame = f'fill="{PALE}" stroke="{SOFT}" stroke-width="1.4" stroke-dasharray="5 4"'
    return (Stroke(frame, box(side, 2)),)


def _pin(side: int) -> tuple[Stroke, ...]:
    """A triangle in the bottom left corner."""
    attributes = f'fill="{INK}" stroke="{SHEET}" stroke-width="2.5"'
    return (Stroke(attributes, f"m3 {side - 3}v-19l19 19z"),)


def _link(
    place: Place,
    corner: tuple[int, int],
    side: int,
    address: str,
    colours: Mapping[Place, str],
    prefix: str,
) -> str:
    href, (x, y) = escape(address), corner
    words = f"{place}, {colours[place]}" if place in colours else str(place)
    return (
        f'<a id="{prefix}-{place}" class="square" href="{href}" hx-get="{href}" '
        f'aria-label="{escape(words)}">'
        f'<rect x="{x}" y="{y}" width="{side}" height="{side}"/></a>'
    )
