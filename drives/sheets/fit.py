"""How large a sheet can be set so that it goes onto one page."""

from collections.abc import Iterable, Sequence
from math import ceil
from typing import NamedTuple

from drives.craft.layout import Layout
from drives.models import Paper

from .parts import Part

ONE_PAGE = (12, 16)  # the largest grid, either way up, that is to go onto one page
MM = {Paper.A4: (210, 297), Paper.LETTER: (215.9, 279.4)}
MARGINS = (20, 24)  # mm, both sides together: left and right, top and bottom
LEFT, RIGHT = 0.61, 0.36  # shares of the width

POINT = 25.4 / 72  # mm
LETTER_WIDTH = 0.5  # em, on average
LINE = 1.25  # em
PART = 3.2  # em, for a heading and the room around it
FIXED = 32 + 13 + 21 + 14  # mm: lines for writing, their heading, date and progress, cautions


class Fit(NamedTuple):
    """Size of type in points, and of the map in mm; ``one`` if meant for one page."""

    points: float
    width: float
    height: float
    one: bool


# Points, and the height of the map in mm at most; from the most generous on.
SIZES = (
    *((11, 150), (11, 130), (10, 147), (10, 130)),
    *((9, 147), (9, 120), (8, 135), (8, 112), (7.5, 95)),
)
LARGEST_UNIT = 24  # mm


def fits(
    layout: Layout, paper: str, left: Iterable[Part], right: Iterable[Part], title: str
) -> list[Fit]:
    """What to try: first what should do by a rough measure, then smaller, then more pages."""
    left, right = tuple(left), tuple(right)
    width, height = (whole - gone for whole, gone in zip(MM[Paper(paper)], MARGINS, strict=True))
    tried: list[Fit] = []
    small, large = sorted((layout.columns, layout.rows))
    if small <= ONE_PAGE[0] and large <= ONE_PAGE[1]:
        for points, highest in SIZES:
            fit = Fit(points, *_map(layout, width * LEFT, highest), one=True)
            left_height = (
                fit.height + points * POINT * LINE * 4 + _height(left, width * LEFT, points)
            )
            right_height = _height(right, width * RIGHT, points)
            head = 8 * _rows(title, width * 0.8, 20)
            if tried or FIXED + head + max(left_height, right_height) <= height:
                tried.append(fit)
    return [*tried, Fit(10, *_map(layout, width, height - 45), one=False)]


def _map(layout: Layout, width: float, height: float) -> tuple[float, float]:
    """The largest map within ``width`` × ``height`` mm."""
    across, up = layout.columns + 0.75, layout.rows + 0.75  # with letters and numbers at its edges
    shape = across / up
    width, height = min(width, across * LARGEST_UNIT), min(height, up * LARGEST_UNIT)
    return (width, width / shape) if width / shape <= height else (height * shape, height)


def _height(parts: Sequence[Part], width: float, points: float) -> float:
    """About how high ``parts`` are in mm, when they are ``width`` mm wide."""
    em = points * POINT
    rows = 0.0
    for part in parts:
        rows += PART / LINE + _rows(part.note, width, points)
        for line in part.lines:
            text = f"{line.who}, {line.when}" if line.when else line.joins
            rows += 0.15 + _rows(text, width - 3.2 * em, points)
            if line.when and line.joins:
                rows += 0.9 * _rows(line.joins, width - 3.2 * em, 0.9 * points)
    return rows * em * LINE


def _rows(text: str, width: float, points: float) -> int:
    return ceil(len(text) * points * POINT * LETTER_WIDTH / width)
