"""Progress over time: what is finished so far, and what the forecast expects.

Told apart by their lines alone: so far a thick line in steps, the middle of the forecast dashed
in a hatched band, the wanted day a double line.
"""

import itertools
from collections.abc import Mapping, Sequence
from datetime import date
from html import escape
from typing import NamedTuple

from .grid import FONT
from .looks import ACCENT, INK, PALE, SHEET, SOFT

WIDTH, HEIGHT = 460, 350
SCALE = 1.25  # where there is room
LEFT, RIGHT, TOP, BOTTOM = 52, 16, 30, 44  # the margins of the field
LETTERS = 18  # their size; a narrow screen shows two thirds of it
HATCH = 12  # from one line of the band to the next


class Reached(NamedTuple):
    """``finished`` squares by the end of ``day``."""

    day: date
    finished: int


class Expected(NamedTuple):
    """The same, expected: with 90 %, with 50 % and with 10 %."""

    day: date
    low: int
    middle: int
    high: int


class ForecastWords(NamedTuple):
    """What the picture is called and says to those who do not see it, and its few labels."""

    title: str
    description: str
    today: str
    wanted: str


class Field:
    """From days and squares to the drawing."""

    def __init__(self, first: date, last: date, squares: int) -> None:
        self.first, self.days, self.squares = first, max((last - first).days, 1), squares

    def x(self, day: date) -> float:
        share = (day - self.first).days / self.days
        return round(LEFT + share * (WIDTH - LEFT - RIGHT), 1)

    def y(self, squares: float) -> float:
        return round(HEIGHT - BOTTOM - squares / self.squares * (HEIGHT - TOP - BOTTOM), 1)

    def line(self, points: Sequence[tuple[date, int]]) -> str:
        return "M" + "L".join(f"{self.x(day):g} {self.y(squares):g}" for day, squares in points)


def forecast_svg(
    so_far: Sequence[Reached],
    ahead: Sequence[Expected],
    *,
    squares: int,
    wanted: date | None,
    day_names: Mapping[date, str],
    words: ForecastWords,
    prefix: str = "forecast",
) -> str:
    """An ``<svg>``. Both sequences by day, at least one long; ``squares`` the blanket has.

    ``so_far`` ends, and ``ahead`` begins, today. ``day_names``: of days to be named below the
    picture, the most important first; there may not be room for all.
    """
    today = so_far[-1].day
    days = [so_far[0].day, ahead[-1].day if ahead else today, *([wanted] if wanted else [])]
    field = Field(min(days), max(days), squares)
    return "".join(
        [
            f'<svg xmlns="http://www.w3.org/2000/svg" class="chart" role="img" '
            f'aria-labelledby="{prefix}-title {prefix}-desc" width="{WIDTH * SCALE:g}" '
            f'height="{HEIGHT * SCALE:g}" '
            f'viewBox="0 0 {WIDTH} {HEIGHT}"><title id="{prefix}-title">{escape(words.title)}'
            f'</title><desc id="{prefix}-desc">{escape(words.description)}</desc>',
            _frame(field),
            _band(field, ahead) if ahead else "",
            _upright(field.x(today), f'stroke="{SOFT}" stroke-width="1.5"'),
            _wanted(field.x(wanted)) if wanted else "",
            _so_far(field, so_far),
            _labels(field, today, wanted, words),
            _days(field, day_names),
            "</svg>",
        ]
    )


def sign_svg(key: str) -> str:
    """The picture of one line for the legend: ``so-far``, ``middle``, ``band`` or ``wanted``."""
    field = '<path d="M1 18H35" fill="none" '
    drawn = {
        "so-far": f'{field}stroke="{INK}" stroke-width="5"/>',
        "middle": f'{field}stroke="{ACCENT}" stroke-width="4" stroke-dasharray="9 5"/>',
        "band": f'<path d="M1 6H35V30H1z" fill="{PALE}"/><path d="M1 6H35M1 30H35M7 30V6M19 30V6'
        f'M31 30V6" fill="none" stroke="{SOFT}" stroke-width="1.2"/>',
        "wanted": f'<path d="M16 2V34M22 2V34" fill="none" stroke="{INK}" stroke-width="2"/>',
    }[key]
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" class="sign" width="36" height="36" '
        f'viewBox="0 0 36 36" aria-hidden="true">{drawn}</svg>'
    )


def _frame(field: Field) -> str:
    bottom, top = field.y(0), field.y(field.squares)
    heights = (field.y(field.squares * part / 4) for part in (1, 2, 3))
    marks = "".join(f"M{LEFT} {y:g}H{WIDTH - RIGHT}" for y in heights)
    names = "".join(
        f'<text x="{LEFT - 8}" y="{field.y(count) + 6:g}">{count}</text>'
        for count in sorted({0, field.squares // 2, field.squares})
    )
    return (
        f'<path d="M{LEFT} {top:g}H{WIDTH - RIGHT}V{bottom:g}H{LEFT}z" fill="{SHEET}" '
        f'stroke="{SOFT}" stroke-width="1.2"/>'
        f'<path d="{marks}" fill="none" stroke="{PALE}" stroke-width="1.5"/>'
        f'<g {FONT} fill="{SOFT}" font-size="{LETTERS}" text-anchor="end" aria-hidden="true">'
        f"{names}</g>"
    )


def _band(field: Field, ahead: Sequence[Expected]) -> str:
    high = [(each.day, each.high) for each in ahead]
    low = [(each.day, each.low) for each in ahead]
    middle = [(each.day, each.middle) for each in ahead]
    around = f"{field.line(high)}{field.line(low[::-1]).replace('M', 'L')}z"
    edges = field.line(high) + field.line(low)
    return (
        f'<path class="band" d="{around}" fill="{PALE}"/>'
        f'<path d="{edges}{_hatch(field, ahead)}" fill="none" stroke="{SOFT}" stroke-width="1.2"/>'
        f'<path class="middle" d="{field.line(middle)}" fill="none" stroke="{ACCENT}" '
        f'stroke-width="4" stroke-dasharray="9 5"/>'
    )


def _hatch(field: Field, ahead: Sequence[Expected]) -> str:
    """Upright lines within the band, evenly."""
    lines = []
    for before, after in itertools.pairwise(ahead):
        left, right = field.x(before.day), field.x(after.day)
        x = left + (-left) % HATCH
        while x < right:
            share = (x - left) / (right - left)
            low = before.low + share * (after.low - before.low)
            high = before.high + share * (after.high - before.high)
            lines.append(f"M{x:g} {field.y(low):g}V{field.y(high):g}")
            x += HATCH
    return "".join(lines)


def _so_far(field: Field, so_far: Sequence[Reached]) -> str:
    """In steps: a square is finished on a day, not little by little."""
    first, *others = so_far
    steps = f"M{field.x(first.day):g} {field.y(first.finished):g}" + "".join(
        f"H{field.x(each.day):g}V{field.y(each.finished):g}" for each in others
    )
    return (
        f'<path class="so-far" d="{steps}" fill="none" stroke="{INK}" stroke-width="5" '
        'stroke-linejoin="round" stroke-linecap="round"/>'
    )


def _upright(x: float, look: str) -> str:
    return f'<path d="M{x:g} {TOP}V{HEIGHT - BOTTOM}" fill="none" {look}/>'


def _wanted(x: float) -> str:
    look = f'class="wanted" stroke="{INK}" stroke-width="2"'
    return _upright(x - 3, look) + _upright(x + 3, look)


def _labels(field: Field, today: date, wanted: date | None, words: ForecastWords) -> str:
    """Above the upright lines."""
    labels = [(field.x(wanted), words.wanted)] if wanted else []
    return _texts([*labels, (field.x(today), words.today)], TOP - 9, INK)


def _days(field: Field, names: Mapping[date, str]) -> str:
    return _texts([(field.x(day), name) for day, name in names.items()], HEIGHT - BOTTOM + 26, SOFT)


def _texts(labels: Sequence[tuple[float, str]], y: float, fill: str) -> str:
    """Words around ``x``, as many as there is room for; the first go first."""
    parts: list[str] = []
    taken: list[tuple[float, float]] = []
    for x, text in labels:
        width = len(text) * LETTERS * 0.6
        left = min(max(x - width / 2, LEFT), WIDTH - RIGHT - width)
        if all(left + width + 12 < begins or ends + 12 < left for begins, ends in taken):
            taken.append((left, left + width))
            middle = f'x="{left + width / 2:.4g}" y="{y:g}" text-anchor="middle"'
            parts.append(f"<text {middle}>{escape(text)}</text>")
    return f'<g {FONT} font-size="{LETTERS}" fill="{fill}" aria-hidden="true">{"".join(parts)}</g>'
