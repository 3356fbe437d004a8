"""The looks: told apart without colour, and legible on every yarn."""

from itertools import combinations, product

import pytest

from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import plan
from drives.craft.layout.states import State
from drives.drawing import legend, map_svg, planner_svg
from drives.drawing.colours import YARNS, yarn_colour
from drives.drawing.legend import USUAL
from drives.drawing.looks import Look, strokes_of

from .boards import board
from .reading import all_of, colourless, contrast, read

PAGE, PAPER = "#f8f3e9", "#ffffff"  # the grounds of a page and of a sheet
EVERY_SIGN = (*State, "late", "mine", "piece", "seam", "missing")
TEXT, LARGE = 4.5, 3  # WCAG 2.2: 1.4.3 for text; 1.4.11 for what is needed to understand a picture


@pytest.mark.parametrize("paper", [False, True])
def test_signs_differ_in_their_lines_alone(paper: bool) -> None:
    pictures = {
        sign.key: colourless(all_of(read(sign.svg), "path"))
        for sign in legend(EVERY_SIGN, paper=paper)
    }

    for one, other in combinations(pictures, 2):
        assert pictures[one] != pictures[other], (one, other)


@pytest.mark.parametrize("paper", [False, True])
def test_states_differ_in_what_is_drawn_inside_their_outlines(paper: bool) -> None:
    """Waiting alone is dotted, ready alone has a ring; taken lines slant, finished ones turn."""
    lines = {state: strokes_of(Look(state, paper=paper)) for state in State}

    def having(mark: str) -> set[State]:
        return {
            state
            for state, drawn in lines.items()
            if any(mark in stroke.attributes + stroke.tail for stroke in drawn)
        }

    assert having("stroke-dasharray") == {State.WAITING}
    assert having("a8 8 0 1 0 16 0") == {State.READY}
    assert having("m5 0l0 55l55 0") == {State.FINISHED}
    assert having("l17.5 17.5") == {State.TAKEN}


@pytest.mark.parametrize(
    ("state", "colour", "paper"), list(product(State, ["", *YARNS.values()], [False, True]))
)
def test_lines_stand_out_from_the_square_that_they_are_drawn_on(
    state: State, colour: str, paper: bool
) -> None:
    ground, *drawn = strokes_of(Look(state, 1, colour, paper))
    fill = ground.attributes.removeprefix('fill="').rstrip('"')

    for stroke in drawn:
        line = stroke.attributes.partition('stroke="')[2][:7]
        assert line == fill or contrast(line, fill) >= LARGE, (line, fill)


def test_every_name_stands_on_a_pale_plate_and_the_edges_on_the_page() -> None:
    shown = board(plan(Layout(12, 12, 20)), 60, 3)
    root = read(map_svg(shown.plan, shown.state_of, title="Map"))

    groups = [group for group in all_of(root, "g") if all_of(group, "text")]
    plates = all_of(root, "path", "plate")
    *named, edges = groups
    assert len(plates) == len(named) == 2  # names of two and of three letters
    for plate, group in zip(plates, named, strict=True):
        assert plate.attrib["d"].count("M") == len(all_of(group, "text"))
        assert contrast(plate.attrib["fill"], group.attrib["fill"]) >= TEXT
    for ground in (PAGE, PAPER):
        assert contrast(edges.attrib["fill"], ground) >= TEXT


def test_the_legend_shows_what_the_map_shows() -> None:
    assert [sign.key for sign in legend()] == list(USUAL)
    for sign in legend():
        assert read(sign.svg).attrib["aria-hidden"] == "true"
    for state in State:
        (sign,) = legend([state])
        drawn = [path.attrib for path in all_of(read(sign.svg), "path")]
        assert [path["d"] for path in drawn] == [
            f"M0 0{stroke.tail}" for stroke in strokes_of(Look(state))
        ]


def test_yarn_colours_are_found_in_knitters_words() -> None:
    assert yarn_colour("Dusty pink") == YARNS["pink"]
    assert yarn_colour("blue-GREEN") == YARNS["green"]
    assert yarn_colour("sock yarn, leftovers") is None
    assert yarn_colour("") is None


def test_planner_signs_stand_out_too() -> None:
    root = read(
        planner_svg(
            Layout(2, 2, 20),
            title="Plan",
            place_link=str,
            seam_link=lambda one, other: "/",
            place_label=str,
            seam_label=lambda one, other: "",
        )
    )

    for group in all_of(root, "g"):
        if all_of(group, "text"):
            assert contrast(group.attrib["fill"], PAGE) >= TEXT
