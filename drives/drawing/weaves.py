"""Patterns that tell colours of yarn apart in black and white, each with its number."""

from collections.abc import Sequence
from functools import lru_cache

from .colours import line_on
from .grid import FONT
from .lines import Lines, Point, box, tail
from .looks import INK, SHEET, SOFT, UNIT, Stroke, hatching, stroke

STEP = 12
WEAVES = 12  # then they begin again; the numbers go on


@lru_cache(maxsize=512)
def woven(number: int, value: str, side: int) -> tuple[Stroke, ...]:
    """A square of the colour ``value`` (#rrggbb), number 1, 2, … of its palette."""
    ground = Stroke(f'fill="{value}" stroke="{INK}" stroke-width="1.2"', box(side, 0.6))
    drawn = _weave((number - 1) % WEAVES, side)
    return (ground, stroke(line_on(value, INK), 2.4, drawn)) if drawn else (ground,)


def key(number: int, x: float, y: float) -> str:
    """The number on a pale plate, its bottom right corner at ``x`` and ``y``."""
    words = str(number)
    width = 12 * len(words) + 6
    return (
        f'<rect x="{x - width:g}" y="{y - 21:g}" width="{width}" height="21" fill="{SHEET}" '
        f'stroke="{SOFT}" stroke-width="1"/>'
        f'<text x="{x - width / 2:g}" y="{y - 4:g}">{words}</text>'
    )


def colour_sign(number: int, value: str) -> str:
    """The colour as the map shows it; it says nothing without its name beside it."""
    drawn = "".join(stroke.at(["0 0"]) for stroke in woven(number, value, UNIT))
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" class="sign" width="44" height="44" '
        f'viewBox="-1 -1 {UNIT + 2} {UNIT + 2}" aria-hidden="true">{drawn}'
        f'<g {FONT} font-size="19" fill="{INK}" text-anchor="middle">'
        f"{key(number, UNIT - 3, UNIT - 3)}</g></svg>"
    )


def _weave(kind: int, side: int) -> str:
    steps = range(STEP // 2, side, STEP)
    match kind:
        case 1:
            return tail(hatching(side, STEP, 3))
        case 2:
            return tail(_level(side))
        case 3:
            return tail(_diamond(x, y, 3) for y in steps for x in steps)
        case 4:
            return tail(_mirrored(side))
        case 5:
            return tail(_upright(side))
        case 6:
            return tail([*_level(side), *_upright(side)])
        case 7:
            return tail([*hatching(side, STEP, 3), *_mirrored(side)])
        case 8:
            return tail(_frame(side, inset) for inset in range(7, side // 2, 9))
        case 9:
            return tail(_teeth(side))
        case 10:
            crosses = [(x, y) for y in steps for x in steps]
            return tail(
                [(x - 3, y), (x + 3, y)] if upright else [(x, y - 3), (x, y + 3)]
                for x, y in crosses
                for upright in (False, True)
            )
        case 11:
            return tail(_diamond(side / 2, side / 2, reach) for reach in range(6, side // 2 - 3, 9))
    return ""


def _diamond(x: float, y: float, reach: float) -> Sequence[Point]:
    return [(x - reach, y), (x, y - reach), (x + reach, y), (x, y + reach), (x - reach, y)]


def _frame(side: int, inset: int) -> Sequence[Point]:
    end = side - inset
    return [(inset, inset), (end, inset), (end, end), (inset, end), (inset, inset)]


def _level(side: int) -> Lines:
    return ([(3, y), (side - 3, y)] for y in range(STEP // 2, side, STEP))


def _upright(side: int) -> Lines:
    return ([(x, 3), (x, side - 3)] for x in range(STEP // 2, side, STEP))


def _mirrored(side: int) -> Lines:
    return ([(side - x, y) for x, y in drawn] for drawn in hatching(side, STEP, 3))


def _teeth(side: int) -> Lines:
    half = STEP / 2
    count = int((side - 6) // half)
    for y in range(STEP, side, STEP):
        yield [(3 + step * half, y - (half if step % 2 else 0)) for step in range(count + 1)]
