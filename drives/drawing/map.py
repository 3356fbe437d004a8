"""The map of a blanket: every square with its state, for the screen and for paper."""

from collections.abc import Callable, Collection, Iterator, Mapping, Set
from html import escape

from drives.craft.layout.plan import Plan
from drives.craft.layout.states import State
from drives.craft.places import Place

from . import looks
from .grid import DrawingGrid, names
from .looks import UNIT, Look, strokes_of
from .outline import outlines

MOST_LINKED_LINES = 60  # columns, or rows, up to which every square is a link and bears its name


def map_svg(
    plan: Plan,
    state_of: Mapping[Place, State],
    *,
    title: str,
    link: Callable[[Place], str] | None = None,
    label: Callable[[Place], str] = str,
    late: Set[Place] = frozenset(),
    mine: Set[Place] = frozenset(),
    colours: Mapping[Place, str] = {},
    pieces: Mapping[str, Collection[Place]] | None = None,
    paper: bool = False,
    part: tuple[Place, Place] | None = None,
    prefix: str = "map",
) -> str:
    """An ``<svg class="map">`` of the blanket, A1 at the bottom left.

    ``state_of`` holds every place of the plan. ``title`` names the map, plain text like all
    words given here. With ``link`` each square is an ``<a class="square">`` with its accessible
    name from ``label`` (its place's name, if none is given), in the recommended order of work;
    on a map of more than 60 columns or rows only the squares that are ready, taken or ``mine``
    are, and only they bear their names. ``colours``: how the yarn of each square looks, as
    ``#rrggbb``, where that is known; a map for black ink has none. ``pieces`` are outlined,
    each with its name; none of them reaches out of the drawing. ``part``, the bottom left and
    the top right place, draws only the squares that lie in it, wholly or partly.
    ``prefix`` begins every id, so that two maps can stand on one page.
    """
    grid = DrawingGrid(plan.layout)
    places = plan.places
    if part is not None:
        places = tuple(place for place in places if _meets(place, plan.size[place], *part))
        grid = DrawingGrid(plan.layout, *_bounds(plan, places, *part))
    few = max(len(grid.columns), len(grid.rows)) > MOST_LINKED_LINES
    alike: dict[Look, list[str]] = {}
    marks: dict[tuple[str, int], list[str]] = {}
    named: dict[str, tuple[int, int]] = {}
    links: list[str] = []
    for place in places:
        state, size = state_of[place], plan.size[place]
        x, y = grid.corner(place, size)
        corner = f"{x} {y}"
        look = Look(state, size, colours.get(place, ""), paper)
        alike.setdefault(look, []).append(corner)
        if place in mine:
            marks.setdefault(("mine", size), []).append(corner)
        if place in late:
            marks.setdefault(("late", size), []).append(corner)
        if few and state in (State.WAITING, State.FINISHED) and place not in mine:
            continue
        name = str(place)
        named[name] = x, y
        if link is not None:
            words = label(place)
            side = size * UNIT
            links.append(
                f'<a id="{prefix}-{name}" class="square {state}" href="{escape(link(place))}" '
                f'aria-label="{escape(words)}">'
                f'<rect x="{x}" y="{y}" width="{side}" height="{side}"/></a>'
            )
    return "".join(
        [
            grid.opening(title, links=bool(links), prefix=prefix),
            grid.missing(),
            *_drawn(alike),
            *_marked(marks),
            outlines(grid, pieces or {}, plan.size),
            grid.seams(),
            names(named),
            grid.edges(),
            '<g fill="none" pointer-events="all">',
            *links,
            "</g></svg>",
        ]
    )


def _drawn(alike: Mapping[Look, list[str]]) -> Iterator[str]:
    for look, where in alike.items():
        yield f'<g class="{look.state}">'
        for stroke in strokes_of(look):
            yield stroke.at(where)
        yield "</g>"


def _marked(marks: Mapping[tuple[str, int], list[str]]) -> Iterator[str]:
    for (mark, size), where in sorted(marks.items(), reverse=True):  # late over mine
        yield f'<g class="{mark}">'
        for stroke in looks.late_sign(size * UNIT) if mark == "late" else looks.mine(size * UNIT):
            yield stroke.at(where)
        yield "</g>"


def _meets(place: Place, size: int, first: Place, last: Place) -> bool:
    return (
        first.column - size < place.column <= last.column
        and first.row - size < place.row <= last.row
    )


def _bounds(
    plan: Plan, places: tuple[Place, ...], first: Place, last: Place
) -> tuple[Place, Place]:
    """The part from ``first`` to ``last``, widened to hold the whole of each of its squares."""
    ends = [
        Place(column + plan.size[at] - 1, row + plan.size[at] - 1)
        for at in places
        for column, row in [at]
    ]
    return (
        Place(*(min(values) for values in zip(first, *places, strict=True))),
        Place(*(max(values) for values in zip(last, *ends, strict=True))),
    )
