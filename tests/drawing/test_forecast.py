"""The picture of a forecast, and the small pictures of panels."""

import re
from datetime import date, timedelta
from itertools import combinations
from xml.etree.ElementTree import Element

from hypothesis import given
from hypothesis import strategies as st

from drives.craft.layout.layout import Large, Layout, Seam
from drives.craft.layout.plan import plan
from drives.craft.places import Place
from drives.drawing import cut_svg, forecast_svg
from drives.drawing.forecast import (
    BOTTOM,
    HEIGHT,
    LEFT,
    LETTERS,
    RIGHT,
    TOP,
    WIDTH,
    Expected,
    ForecastWords,
    Reached,
    sign_svg,
)

from .boards import often
from .reading import SVG, all_of, lines, read

BEGUN = date(2026, 11, 2)
WORDS = ForecastWords("Squares <over> time", "Done & dusted by May.", "today", "wanted")


def on(day: int) -> date:
    return BEGUN + timedelta(days=day)


def drawn(so_far: list[int], ahead: list[tuple[int, int, int]], wanted: int | None = None) -> str:
    """Progress day by day, from the first; ``wanted`` is a day's number."""
    today = len(so_far) - 1
    days = [0, today, today + len(ahead), *([wanted] if wanted is not None else [])]
    return forecast_svg(
        [Reached(on(day), count) for day, count in enumerate(so_far)],
        [Expected(on(today + day), *band) for day, band in enumerate(ahead)],
        squares=20,
        wanted=None if wanted is None else on(wanted),
        day_names={on(day): f"{on(day):%d %b %Y}" for day in days},
        words=WORDS,
    )


def points(path: Element) -> list[tuple[float, float]]:
    """The corners of a path of absolute commands."""
    found: list[tuple[float, float]] = []
    for command, numbers in re.findall(r"([MLHV])([\d. ]+)", path.get("d", "")):
        values = [float(number) for number in numbers.split()]
        x, y = found[-1] if found else (0.0, 0.0)
        found.append(
            (values[0], y)
            if command == "H"
            else (x, values[0])
            if command == "V"
            else (values[0], values[1])
        )
    return found


def one(root: Element, kind: str) -> Element:
    (element,) = all_of(root, "path", kind)
    return element


EXAMPLE = drawn([0, 2, 2, 8], [(8, 8, 8), (8, 10, 13), (10, 14, 20), (20, 20, 20)], wanted=5)


def test_it_has_words_for_those_who_do_not_see_it() -> None:
    root = read(EXAMPLE)
    named = {element.get("id"): element.text for element in root if element.get("id")}
    assert root.get("role") == "img"
    ids = (root.get("aria-labelledby") or "").split()
    assert [named[each] for each in ids] == [WORDS.title, WORDS.description]


def test_lines_run_where_the_numbers_say() -> None:
    root = read(EXAMPLE)
    right, bottom = WIDTH - RIGHT, HEIGHT - BOTTOM
    so_far = points(one(root, "so-far"))
    assert so_far[0] == (LEFT, bottom)
    today, reached = so_far[-1]
    assert today == round(LEFT + (right - LEFT) / 2, 1)
    assert reached == round(bottom - 8 / 20 * (bottom - TOP), 1)
    middle = points(one(root, "middle"))
    assert (middle[0], middle[-1]) == ((today, reached), (right, TOP))
    for element in all_of(root, "path", "wanted"):
        assert today < points(element)[0][0] < right


def test_it_is_told_apart_without_colour() -> None:
    root = read(EXAMPLE)
    assert one(root, "middle").get("stroke-dasharray")
    assert not one(root, "so-far").get("stroke-dasharray")
    assert len(all_of(root, "path", "wanted")) == 2
    pictures = {sign_svg(key) for key in ("so-far", "middle", "band", "wanted")}
    assert len({re.sub(r"#\w{6}", "#000000", each) for each in pictures}) == 4


def test_nothing_ahead_and_nothing_wanted_are_left_out() -> None:
    root = read(drawn([0, 20], []))
    assert not [kind for kind in ("band", "middle", "wanted") if all_of(root, "path", kind)]
    assert points(one(root, "so-far"))[-1] == (WIDTH - RIGHT, TOP)


@often
@given(st.integers(1, 60), st.integers(0, 60), st.none() | st.integers(0, 200), st.integers(0, 20))
def test_words_stay_inside_and_apart(
    past: int, ahead: int, wanted: int | None, finished: int
) -> None:
    svg = drawn([finished] * past, [(finished, finished, 20)] * ahead, wanted)
    rows: dict[str, list[tuple[float, float]]] = {}
    for element in read(svg).iter(f"{SVG}text"):
        width = len(element.text or "") * LETTERS * 0.6
        if element.get("text-anchor") == "middle":
            x = float(element.get("x", ""))
            rows.setdefault(element.get("y", ""), []).append((x - width / 2, x + width / 2))
    for row in rows.values():
        assert all(left >= LEFT - 1 and right <= WIDTH - RIGHT + 1 for left, right in row)
        assert all(a[1] < b[0] or b[1] < a[0] for a, b in combinations(row, 2))


def test_panels_are_drawn_apart() -> None:
    seams = frozenset(Seam(Place(1, row), Place(2, row)) for row in (1, 2, 3))
    whole = plan(Layout(3, 3, 20, large=frozenset({Large(Place(2, 1), 2)})))
    halves = plan(Layout(3, 3, 20, large=frozenset({Large(Place(2, 1), 2)}), seams=seams))
    for layout, wide in ((whole, False), (halves, True)):
        root = read(cut_svg(layout, {Place(1, 1)}))
        squares = [square for path in all_of(root, "path") for square in lines(path)]
        assert len(squares) == len(layout.places)
        lefts = sorted({min(x for x, _y in square) for square in squares})
        side = lefts[-1] - lefts[-2]
        assert (lefts[1] - lefts[0] > side * 1.2) is wide
