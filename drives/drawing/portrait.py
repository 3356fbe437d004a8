"""A blanket as its receiver sees it: all of it finished, nothing written on it."""

from collections.abc import Mapping
from html import escape

from drives.craft.layout.plan import Plan
from drives.craft.layout.states import State
from drives.craft.places import Place

from .grid import DrawingGrid
from .looks import PALE, UNIT, Look, strokes_of

ROOM = 2  # around it, for half a line


def portrait_svg(plan: Plan, *, title: str, colours: Mapping[Place, str]) -> str:
    """An ``<svg class="portrait">``; ``colours``: #rrggbb of each square, where known."""
    grid = DrawingGrid(plan.layout)
    alike: dict[Look, list[str]] = {}
    for place in plan.places:
        size = plan.size[place]
        look = Look(State.FINISHED, size, colours.get(place, PALE), paper=True)
        x, y = grid.corner(place, size)
        alike.setdefault(look, []).append(f"{x} {y}")
    left, top = grid.corner(Place(1, plan.layout.rows))
    width, height = (side * UNIT + 2 * ROOM for side in (plan.layout.columns, plan.layout.rows))
    drawn = [stroke.at(where) for look, where in alike.items() for stroke in strokes_of(look)]
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="portrait" role="img" width="{width}" '
        f'height="{height}" viewBox="{left - ROOM} {top - ROOM} {width} {height}">'
        f"<title>{escape(title)}</title>{''.join(drawn)}</svg>"
    )
