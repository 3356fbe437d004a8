"""How large a sheet can be set so that it goes onto one page."""

from collections.abc import Sequence
from itertools import pairwise
from math import ceil
from typing import NamedTuple

from drives.craft.layout.layout import Layout
from drives.models import Paper

from .lists import Listed

MAP = (30, 36)  # columns and rows of a map whose names can still be read on one page …
LARGE_MAP = (12, 15)  # … and in large print
ONE_PAGE = (12, 16)  # the largest grid, either way up, that is to go onto one page
MM = {Paper.A4: (210, 297), Paper.LETTER: (215.9, 279.4)}
MARGINS = (20, 24)  # mm, both sides together: left and right, top and bottom
LEFT = (0.46, 0.61)  # least and most share of the width for the map and what lies below it
GAP = 7  # mm between the two sides

POINT = 25.4 / 72  # mm
LETTER_WIDTH = 0.5  # em, on average
LINE = 1.25  # em
HEADING = 3.2  # em, for a heading and the room around it
FIXED = 32 + 13 + 21 + 14  # mm: lines for writing, their heading, date and progress, cautions


class Fit(NamedTuple):
    """Size of type in points; of the map, and the widths of the two sides, in mm.

    ``one`` if it is meant for one page; else there are no sides.
    """

    points: float
    width: float
    height: float
    left: float = 0
    right: float = 0
    one: bool = False


# Points, and the height of the map in mm at most; from the most generous on. Nothing in large
# print is smaller than 14 points (UKAAF, Minimum standards for clear and large print).
CARD_SIZES = (
    *((11, 150), (11, 130), (10, 147), (10, 130)),
    *((9, 147), (9, 120), (8, 135), (8, 112), (7.5, 95)),
)
LARGE_CARD_SIZES = ((18, 130), (16, 130), (14, 130), (14, 100))
LARGEST_UNIT = 24  # mm


def fits(
    layout: Layout,
    paper: str,
    left: Sequence[Listed],
    right: Sequence[Listed],
    title: str,
    *,
    large: bool = False,
) -> list[Fit]:
    """What to try: first what should do by a rough measure, then smaller, then more pages."""
    sizes = LARGE_CARD_SIZES if large else CARD_SIZES
    width, height = (whole - gone for whole, gone in zip(MM[Paper(paper)], MARGINS, strict=True))
    tried: list[Fit] = []
    if _for_one_page(layout):
        fixed, headline = (FIXED * 1.5, 28) if large else (FIXED, 20)
        room = height - fixed - 0.4 * headline * _rows(title, width * 0.8, headline)
        for points, highest in sizes:
            drawn = _map(layout.columns, layout.rows, width * LEFT[1], highest)
            side = max(width * LEFT[0], drawn[0])
            fit = Fit(points, *drawn, side, width - side - GAP, one=True)
            legend = 4 * points * POINT * LINE
            below = _height(left, fit.left, points)
            needed = max(fit.height + legend + below, _height(right, fit.right, points))
            if needed <= room or tried or points == sizes[-1][0]:
                tried.append(fit)
    most = LARGE_MAP if large else MAP
    largest = len(stretches(layout.columns, most[0])[-1]), len(stretches(layout.rows, most[1])[-1])
    points, above = (16, 75) if large else (10, 50)
    return [*tried, Fit(points, *_map(*largest, width, height - above))]


def stretches(length: int, most: int) -> list[range]:
    """1 … ``length`` in as few stretches of ``most`` at most as can be, nearly equal."""
    count = ceil(length / most)
    ends = [length * number // count + 1 for number in range(count + 1)]
    return [range(*pair) for pair in pairwise(ends)]


def _for_one_page(layout: Layout) -> bool:
    sides = sorted((layout.columns, layout.rows))
    return all(side <= most for side, most in zip(sides, ONE_PAGE, strict=True))


def _map(columns: int, rows: int, width: float, height: float) -> tuple[float, float]:
    """The largest map within ``width`` × ``height`` mm."""
    across, up = columns + 0.75, rows + 0.75  # with letters and numbers at its edges
    shape = across / up
    width, height = min(width, across * LARGEST_UNIT), min(height, up * LARGEST_UNIT)
    return (width, width / shape) if width / shape <= height else (height * shape, height)


def _height(lists: Sequence[Listed], width: float, points: float) -> float:
    """About how high ``lists`` are in mm, when they are ``width`` mm wide."""
    em = points * POINT
    rows = 0.0
    for each in lists:
        rows += HEADING / LINE + _rows(each.note, width, points)
        for line in each.lines:
            text = f"{line.who}, {line.when}" if line.when else line.joins
            rows += 0.15 + _rows(text, width - 3.2 * em, points)
            if line.when and line.joins:
                rows += 0.9 * _rows(line.joins, width - 3.2 * em, 0.9 * points)
    return rows * em * LINE


def _rows(text: str, width: float, points: float) -> int:
    return ceil(len(text) * points * POINT * LETTER_WIDTH / width)
