"""The map of a colour plan: nothing is told by colour alone."""

import re

from drives.craft.layout.layout import Large, Layout
from drives.craft.layout.plan import plan
from drives.craft.places import Place
from drives.drawing.colour_map import colour_map_svg
from drives.drawing.weaves import WEAVES, colour_sign, woven

PLAN = plan(Layout(3, 3, 20, large=frozenset({Large(Place(1, 1), 2)})))
A1, C1 = Place(1, 1), Place(3, 1)
PALETTE = {"moss": "#6f7f3f", "rust <red>": "#a9502b"}


def drawn(**more: object) -> str:
    given = {A1: "moss", C1: "rust <red>"}
    return colour_map_svg(PLAN, given, PALETTE, title="<The yarns>", **more)  # type: ignore[arg-type]


def test_each_square_bears_its_name_and_the_number_of_its_colour() -> None:
    texts = re.findall(r"<text [^>]*>(\w+)</text>", drawn())
    assert {"A1", "C1", "A3", "C3"} <= set(texts)
    assert "<title" in drawn()
    assert "&lt;The yarns&gt;" in drawn()
    numbered = drawn().partition('text-anchor="middle"')[2].partition("</g>")[0]
    assert re.findall(r">(\d+)</text>", numbered) == ["1", "2"]


def test_patterns_differ_without_their_colours() -> None:
    patterns = {woven(number, "#888888", 60) for number in range(1, WEAVES + 1)}
    assert len(patterns) == WEAVES
    assert len({colour_sign(number, "#888888") for number in range(1, 25)}) == 24


def test_signs_of_finished_chosen_and_marked_squares_differ() -> None:
    plain = drawn()
    signs = {
        drawn(**{kind: frozenset({C1})}).replace(plain, "")
        for kind in ("finished", "chosen", "marked")
    }
    assert len(signs | {plain}) == 4


def test_all_squares_can_be_pressed() -> None:
    svg = drawn(press=lambda place: f"?press={place}")
    pressed = re.findall(r'href="\?press=(\w+)" hx-get="\?press=\1" aria-label="([^"]*)"', svg)
    assert ("C1", "C1, rust &lt;red&gt;") in pressed
    assert ("C3", "C3") in pressed
    assert len(pressed) == len(PLAN.places)
    assert "<a " not in drawn()


def test_a_very_large_map_has_no_words_on_its_squares() -> None:
    wide = plan(Layout(61, 1, 20))
    svg = colour_map_svg(wide, {A1: "moss"}, PALETTE, title="")
    assert ">A1</text>" not in svg
    assert ">A</text>" in svg
