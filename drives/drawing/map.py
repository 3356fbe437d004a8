"""The map of a blanket: every square with its state, for the screen and for paper."""

from collections.abc import Callable, Mapping, Set
from html import escape

from drives.craft.places import Place
from drives.craft.plan import Plan
from drives.craft.states import State

from . import looks
from .grid import Grid, name_text, names, plates
from .looks import UNIT, Look, look, strokes

MOST = 60  # columns, or rows, up to which every square is a link and bears its name


def map_svg(
    plan: Plan,
    state_of: Mapping[Place, State],
    *,
    title: str,
    link: Callable[[Place], str] | None = None,
    label: Callable[[Place], str] | None = None,
    late: Set[Place] = frozenset(),
    mine: Set[Place] = frozenset(),
    colours: Mapping[Place, str] | None = None,
    paper: bool = False,
    prefix: str = "map",
) -> str:
    """An ``<svg>`` of the blanket, A1 at the bottom left.

    ``state_of`` holds every place of the plan. ``title`` names the map, plain text like all
    words given here. With ``link`` each square is an ``<a class="square">`` with its accessible
    name from ``label`` (default: ``describe``), in the recommended order of work; on blankets
    of more than 60 columns or rows only the squares that are ready, taken or ``mine`` are.
    ``colours`` are yarn colours in words. ``prefix`` begins every id, so that two maps can
    stand on one page.
    """
    if label is None:
        label = lambda place: describe(plan, place, state_of[place])  # noqa: E731
    yarns = colours or {}
    grid = Grid(plan.layout)
    few = max(plan.layout.columns, plan.layout.rows) > MOST
    corners: dict[Look, list[str]] = {}
    marked: dict[tuple[str, int], list[str]] = {}
    plated: dict[int, list[str]] = {}
    texts: list[str] = []
    for place in plan.places:
        state, size = state_of[place], plan.size[place]
        x, y = grid.corner(place, size)
        corner = f"{x} {y}"
        corners.setdefault(look(state, size, yarns.get(place, ""), paper=paper), []).append(corner)
        if place in mine:
            marked.setdefault(("mine", size), []).append(corner)
        if place in late:
            marked.setdefault(("late", size), []).append(corner)
        if few and state in (State.WAITING, State.FINISHED) and place not in mine:
            continue
        name = str(place)
        plated.setdefault(len(name), []).append(corner)
        text = name_text(name, x, y)
        if link is not None:
            side = size * UNIT
            text = (
                f'<a id="{prefix}-{name}" class="square {state}" href="{escape(link(place))}" '
                f'aria-label="{escape(label(place))}"><rect fill="none" pointer-events="all" '
                f'x="{x}" y="{y}" width="{side}" height="{side}"/>{text}</a>'
            )
        texts.append(text)
    parts = [grid.opening(title, links=link is not None, prefix=prefix), grid.missing()]
    for key, where in corners.items():
        parts += [stroke.at(where) for stroke in strokes(key)]
    for (sign, size), where in sorted(marked.items(), reverse=True):  # late over mine
        drawn = looks.late if sign == "late" else looks.mine
        parts += [stroke.at(where) for stroke in drawn(size * UNIT)]
    parts += [grid.seams(), plates(plated), names(texts), grid.edges(), "</svg>"]
    return "".join(parts)


def describe(plan: Plan, place: Place, state: State) -> str:
    """A square in words: ``C4, ready, joins onto B4 and C3``."""
    *most, last = [str(support) for support in plan.stands_on[place]] or ["nothing"]
    return f"{place}, {state}, joins onto {', '.join(most)}{' and ' if most else ''}{last}"
