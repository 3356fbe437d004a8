"""How a square looks in each state: told apart by its lines alone, without colour.

All squares of one look are drawn by the same few paths. Each path of a look is kept as the lines
of one square relative to its top left corner (a *tail*), so that drawing many squares is one
join of their corners.
"""

from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

from drives.craft.layout.states import State

from .colours import line_on, mix
from .lines import Lines, box, disc, tail

UNIT = 60  # the side of a square of one unit, in units of the drawing
RIDGE = 10  # from one drawn ridge to the next
HATCH = 11

INK = "#231f1a"
SOFT = "#5a5248"
SHEET = "#fffdf8"
PALE = "#f1e9da"
ACCENT = "#17505c"
WRONG = "#8c1d18"


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


@lru_cache(maxsize=1024)
def strokes_of(look: Look) -> tuple[Stroke, ...]:
    """The paths of ``look``, from the ground up."""
    side = look.size * UNIT
    draw = {
        State.WAITING: _waiting,
        State.READY: _ready,
        State.TAKEN: _taken,
        State.FINISHED: _finished,
    }
    return tuple(draw[look.state](look, side))


def late_sign(side: int) -> tuple[Stroke, ...]:
    """The sign of a square that is past its day, in its bottom right half."""
    x, y = side - 19, side - 29
    return (
        stroke("#ffffff", 8, f"m{x} {y}l13 22h-26z", ' stroke-linejoin="round"'),
        Stroke(
            f'fill="#ffffff" stroke="{WRONG}" stroke-width="2.6" stroke-linejoin="round"',
            f"m{x} {y}l13 22h-26z",
        ),
        stroke(WRONG, 3, tail([[(x, y + 8), (x, y + 14)], [(x, y + 16), (x, y + 19)]])),
    )


def mine(side: int) -> tuple[Stroke, ...]:
    """The frame and the filled marker of a square that is the reader's own."""
    return (
        stroke("#ffffff", 9, box(side, 4.5)),
        stroke(INK, 5, box(side, 3.5)),
        Stroke(f'fill="{INK}" stroke="#ffffff" stroke-width="3"', disc(side - 17, side - 17, 9)),
    )


def stroke(colour: str, width: float, tail: str, more: str = "") -> Stroke:
    return Stroke(f'fill="none" stroke="{colour}" stroke-width="{width}"{more}', tail)


def mitre(side: int) -> str:
    """From the bottom left corner, where the foundation turns, to the top right one."""
    return tail([[(1, side - 1), (side - 1, 1)]])


def ridges(side: float, step: float) -> Lines:
    """Garter ridges: up the left side and along the bottom, each turning at the mitre."""
    offset = step / 2
    while offset < side:
        yield [(offset, 0), (offset, side - offset), (side, side - offset)]
        offset += step


def hatching(side: float, step: float, inset: float) -> Lines:
    """Lines across the mitre, none nearer than ``inset`` to an edge."""
    reach = side - 2 * inset
    offset = step / 2 - (reach // step) * step
    while offset < reach:
        start, end = max(offset, 0), min(reach, reach + offset)
        yield [(inset + start, inset + start - offset), (inset + end, inset + end - offset)]
        offset += step


def _waiting(look: Look, side: int) -> Iterable[Stroke]:
    dots = ' stroke-linecap="round" stroke-dasharray="0.1 5.9"'
    yield Stroke(f'fill="{_ground(look, PALE, 0.75)}"', box(side, 1))
    yield stroke(SOFT, 1.4, mitre(side))
    yield stroke(SOFT, 2.4, box(side, 3), dots)


def _ready(look: Look, side: int) -> Iterable[Stroke]:
    yield Stroke(f'fill="{_ground(look, "#ffffff", 0.75)}"', box(side, 1))
    yield stroke(INK, 1.8, mitre(side))
    yield stroke(INK, 5, box(side, 3.5))
    yield Stroke(f'fill="#ffffff" stroke="{INK}" stroke-width="4"', disc(side - 17, side - 17, 8))


def _taken(look: Look, side: int) -> Iterable[Stroke]:
    ground = _ground(look, "#ffffff", 0.55)
    colour = INK if look.paper else ACCENT
    yield Stroke(f'fill="{ground}"', box(side, 1))
    yield stroke(colour, 2.2, tail(hatching(side, HATCH, 2)))
    yield stroke(ground, 8, mitre(side))
    yield stroke(colour, 2.6, mitre(side))
    yield stroke(colour, 2, box(side, 2))


def _finished(look: Look, side: int) -> Iterable[Stroke]:
    ground = look.colour or ("#dddddd" if look.paper else ACCENT)
    ridge = line_on(ground, INK)
    yield Stroke(f'fill="{ground}"', box(side, 0.5))
    yield stroke(ridge, 3, tail(ridges(side, RIDGE)))
    yield stroke(ground, 6.5, mitre(side))
    yield stroke(ridge, 3.2, mitre(side))


def _ground(look: Look, plain: str, white: float) -> str:
    if look.colour:
        return mix(look.colour, "#ffffff", white)
    return "#ffffff" if look.paper else plain
