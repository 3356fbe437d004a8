"""How a square looks in each state: told apart by its lines alone, without colour.

All squares of one look are drawn by the same few paths. Each path of a look is kept as the lines
of one square relative to its top left corner (a *tail*), so that drawing many squares is one
join of their corners.
"""

from collections.abc import Iterable, Sequence
from functools import lru_cache
from typing import NamedTuple

from drives.craft.states import State

from .colours import dark, mix, yarn

UNIT = 60  # the side of a square of one unit, in units of the drawing
RIDGE = 10  # from one drawn ridge to the next
HATCH = 12

INK = "#231f1a"
SOFT = "#5a5248"
SHEET = "#fffdf8"
PALE = "#f1e9da"
ACCENT = "#17505c"
WRONG = "#8c1d18"

Point = tuple[float, float]


class Look(NamedTuple):
    """What decides how a square is drawn. ``colour`` is ``#rrggbb``, or empty where unknown."""

    state: State
    size: int = 1
    colour: str = ""
    paper: bool = False


class Stroke(NamedTuple):
    """One path of a look: its presentation attributes, and its lines within one square."""

    attributes: str
    tail: str

    def at(self, corners: Iterable[str]) -> str:
        """The path element for squares whose top left corners are ``corners`` ("x y")."""
        return f'<path {self.attributes} d="M{f"{self.tail}M".join(corners)}{self.tail}"/>'


def look(state: State, size: int, words: str, *, paper: bool) -> Look:
    """The look of a square whose yarn's colour is told in ``words``; paper shows no colour."""
    return Look(state, size, "" if paper else (yarn(words) or "") if words else "", paper)


@lru_cache(maxsize=1024)
def strokes(look: Look) -> tuple[Stroke, ...]:
    """The paths of ``look``, from the ground up."""
    side = look.size * UNIT
    match look.state:
        case State.WAITING:
            return _waiting(look, side)
        case State.READY:
            return _ready(look, side)
        case State.TAKEN:
            return _taken(look, side)
        case State.FINISHED:
            return _finished(look, side)


def _waiting(look: Look, side: int) -> tuple[Stroke, ...]:
    return (
        Stroke(f'fill="{_ground(look, PALE, 0.78)}"', box(side, 1)),
        Stroke(f'fill="none" stroke="{SOFT}" stroke-width="1.2"', mitre(side)),
        Stroke(
            f'fill="none" stroke="{SOFT}" stroke-width="2.4" stroke-linecap="round" '
            'stroke-dasharray="0.1 5.9"',
            box(side, 3),
        ),
    )


def _ready(look: Look, side: int) -> tuple[Stroke, ...]:
    return (
        Stroke(f'fill="{_ground(look, "#ffffff", 0.78)}"', box(side, 1)),
        Stroke(f'fill="none" stroke="{INK}" stroke-width="1.6"', mitre(side)),
        Stroke(f'fill="none" stroke="{INK}" stroke-width="5"', box(side, 4)),
        Stroke(f'fill="#ffffff" stroke="{INK}" stroke-width="4"', ring(side)),
    )


def _taken(look: Look, side: int) -> tuple[Stroke, ...]:
    line = INK if look.paper else ACCENT
    return (
        Stroke(f'fill="{_ground(look, "#ffffff", 0.6)}"', box(side, 1)),
        Stroke(f'fill="none" stroke="{line}" stroke-width="2.6"', hatching(side)),
        Stroke(f'fill="none" stroke="{line}" stroke-width="2"', box(side, 2)),
        Stroke(f'fill="none" stroke="{line}" stroke-width="2.6"', mitre(side)),
    )


def _finished(look: Look, side: int) -> tuple[Stroke, ...]:
    ground = look.colour or ("#dcdcdc" if look.paper else ACCENT)
    line = mix(ground, "#ffffff", 0.55) if dark(ground) else mix(ground, "#000000", 0.55)
    return (
        Stroke(f'fill="{ground}"', box(side, 0.5)),
        Stroke(f'fill="none" stroke="{line}" stroke-width="3"', ridges(side)),
        Stroke(f'fill="none" stroke="{line}" stroke-width="3.6"', mitre(side)),
    )


def _ground(look: Look, plain: str, white: float) -> str:
    if look.colour:
        return mix(look.colour, "#ffffff", white)
    return "#ffffff" if look.paper else plain


def box(side: float, inset: float) -> str:
    width = side - 2 * inset
    return f"m{inset:g} {inset:g}h{width:g}v{width:g}h{-width:g}z"


def mitre(side: float) -> str:
    """From the bottom left corner, where the foundation turns, to the top right one."""
    return tail([[(0, side), (side, 0)]])


def ring(side: float) -> str:
    """A ring in the bottom right half, as a stitch marker not yet placed."""
    return f"m{side - 24} {side - 16}a8 8 0 1 0 16 0a8 8 0 1 0-16 0z"


def hatching(side: float) -> str:
    """Lines across the mitre."""
    starts = range(HATCH - int(side), int(side), HATCH)
    return tail(
        [(max(0, at), max(0, -at)), (min(side, side + at), min(side, side - at))] for at in starts
    )


def ridges(side: float) -> str:
    """Garter ridges: up the left side and along the bottom, each turning at the mitre."""
    offsets = range(RIDGE // 2, int(side), RIDGE)
    return tail([(at, 0), (at, side - at), (side, side - at)] for at in offsets)


def tail(lines: Iterable[Sequence[Point]]) -> str:
    """Lines through points relative to a corner, as path commands that follow the corner."""
    parts: list[str] = []
    x = y = 0.0
    for line in lines:
        command = "m"
        for to_x, to_y in line:
            parts.append(f"{command}{to_x - x:g} {to_y - y:g}")
            x, y, command = to_x, to_y, "l"
    return "".join(parts)
