"""What is said of a foundation, exactly; and read back. TRADE.md, sections 3 and 7."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.knitter import Hand
from drives.craft.layout.foundation import Do, How, Step
from drives.craft.layout.layout import Large, Layout, Mitre, Seam
from drives.craft.layout.plan import plan
from drives.craft.layout.rows import rows
from drives.craft.places import Place
from drives.words.rows import glossary, instructions
from drives.words.steps import begin_line, foundation_lines, marker_line, short_line
from tests.craft.layouts import layouts, thoroughly
from tests.words.knitter import Knitter, read_foundation, read_marker

RIGHT, LEFT = Hand.RIGHT, Hand.LEFT
BEGIN_AFTER_A_TURN = "Turn: row 1 is a WS row. The foundation itself counts as no row."
BEGIN_ON_THE_CAST_ON = "Row 1 (WS) begins on the stitches just cast on, without another turn."


def said(layout: Layout, place: str, hand: Hand) -> list[str]:
    """All the sentences for one square."""
    planned, at = plan(layout), Place.parse(place)
    steps = planned.foundation(at, hand)
    lines = foundation_lines(planned, at, hand)
    return [*lines, marker_line(steps, layout.mitre), begin_line(steps)]


@pytest.mark.parametrize(
    ("mitre", "place", "hand", "sentences"),
    [
        (
            Mitre.PAIRED,
            "A1",
            RIGHT,
            [
                "Cast on 40 (any cast-on; long-tail is usual).",
                "The marker goes in the middle, after 20 stitches.",
                BEGIN_AFTER_A_TURN,
            ],
        ),
        (
            Mitre.CENTRED,
            "A1",
            LEFT,
            [
                "Cast on 41 (any cast-on; long-tail is usual).",
                "Mark stitch 21, the middle one.",
                BEGIN_AFTER_A_TURN,
            ],
        ),
        (
            Mitre.PAIRED,
            "B1",
            RIGHT,
            [
                "Cast on 19 (any cast-on; long-tail is usual).",
                "Pick up and knit 21 up the right edge of A1 (one in each of its 20 ridges, "
                "and one in the corner).",
                "The marker goes into step 2, after its first stitch.",
                BEGIN_AFTER_A_TURN,
            ],
        ),
        (
            Mitre.PAIRED,
            "B1",
            LEFT,
            [
                "Pick up and knit 21 down the right edge of A1 (one in each of its 20 ridges, "
                "and one in the corner).",
                "Turn. Cast on 19 onto the right needle (knitted or cable cast-on). "
                "Do not turn again.",
                "The marker goes into step 1, after its first 20 stitches.",
                BEGIN_ON_THE_CAST_ON,
            ],
        ),
        (
            Mitre.PAIRED,
            "A2",
            RIGHT,
            [
                "Pick up and knit 21 along the top edge of A1 (one in each of its 20 ridges, "
                "and one in the corner).",
                "Turn. Cast on 19 onto the left needle (knitted or cable cast-on). "
                "Do not turn again.",
                "The marker goes into step 1, after its first 20 stitches.",
                BEGIN_ON_THE_CAST_ON,
            ],
        ),
        (
            Mitre.PAIRED,
            "B2",
            RIGHT,
            [
                "Pick up and knit 20 along the top edge of B1 (one in each of its 20 ridges).",
                "Pick up and knit 20 up the right edge of A2 (one in each of its 20 ridges).",
                "The marker goes between step 1 and step 2.",
                BEGIN_AFTER_A_TURN,
            ],
        ),
        (
            Mitre.CENTRED,
            "B2",
            LEFT,
            [
                "Pick up and knit 20 down the right edge of A2 (one in each of its 20 ridges).",
                "Pick up and knit 1 in the corner itself, where the two squares meet.",
                "Pick up and knit 20 along the top edge of B1 (one in each of its 20 ridges).",
                "Mark the one stitch picked up in the corner: it is the middle stitch.",
                BEGIN_AFTER_A_TURN,
            ],
        ),
        (
            Mitre.CENTRED,
            "A2",
            RIGHT,
            [
                "Pick up and knit 21 along the top edge of A1 (one in each of its 20 ridges, "
                "and one in the corner).",
                "Turn. Cast on 20 onto the left needle (knitted or cable cast-on). "
                "Do not turn again.",
                "Mark stitch 21 of step 1: it is the middle stitch, in the corner.",
                BEGIN_ON_THE_CAST_ON,
            ],
        ),
    ],
)
def test_a_square_of_a_grid_in_words(
    mitre: Mitre, place: str, hand: Hand, sentences: list[str]
) -> None:
    assert said(Layout(2, 2, 20, mitre), place, hand) == sentences


def test_a_large_square_between_others_in_words() -> None:
    layout = Layout(
        4,
        5,
        20,
        large=frozenset({Large(Place(1, 1), 2), Large(Place(2, 3), 3)}),
        seams=frozenset({Seam(Place(2, 2), Place(2, 3))}),
    )
    assert said(layout, "B3", RIGHT) == [
        "Pick up and knit 20 along the top edge of D2 (one in each of its 20 ridges).",
        "Pick up and knit 20 along the top edge of C2 (one in each of its 20 ridges).",
        "Turn. Cast on 19 onto the left needle (knitted or cable cast-on). Turn back.",
        "Pick up and knit 21 up the right edge of A3 (one in each of its 20 ridges, "
        "and one in the corner).",
        "Pick up and knit 20 up the right edge of A4 (one in each of its 20 ridges).",
        "Pick up and knit 20 up the right edge of A5 (one in each of its 20 ridges).",
        "The marker goes into step 4, after its first stitch.",
        BEGIN_AFTER_A_TURN,
    ]


def test_parts_of_an_edge_in_words() -> None:
    layout = Layout(3, 3, 20, large=frozenset({Large(Place(1, 1), 2)}))
    assert said(layout, "C2", RIGHT)[1] == (
        "Pick up and knit 20 up the right edge of A1 (ridges 21–40 of 40, counted from the bottom)."
    )
    assert said(layout, "B3", RIGHT)[0] == (
        "Pick up and knit 20 along the top edge of A1 (ridges 21–40 of 40, counted from the left)."
    )
    assert said(layout, "A3", RIGHT)[0] == (
        "Pick up and knit 21 along the top edge of A1 (ridges 1–20 of 40, counted from the left, "
        "and one in the corner)."
    )


def test_a_foundation_in_one_line_for_lists() -> None:
    planned = plan(Layout(2, 2, 20, Mitre.CENTRED))
    assert short_line(planned.foundation(Place(1, 2))) == "pick up 21 on A1 (top edge) + cast on 20"
    assert short_line(planned.foundation(Place(2, 2))) == (
        "pick up 20 on B1 (top edge) + 1 in the corner + pick up 20 on A2 (right edge)"
    )


def test_a_marker_within_a_cast_on_between_two_pick_ups() -> None:
    steps = (Step(Do.PICK_UP, 10), Step(Do.CAST_ON, 20, how=How.BETWEEN), Step(Do.PICK_UP, 10))
    assert marker_line(steps, Mitre.PAIRED) == (
        "The marker goes into step 2, after its first 10 stitches."
    )
    assert begin_line(steps) == BEGIN_AFTER_A_TURN


def test_row_1_begins_on_a_cast_on_that_came_last_of_three_steps() -> None:
    layout = Layout(2, 3, 20, large=frozenset({Large(Place(1, 2), 2)}))
    assert said(layout, "A2", RIGHT)[-1] == BEGIN_ON_THE_CAST_ON
    assert len(said(layout, "A2", RIGHT)) == 5
    assert said(layout, "A2", LEFT)[-1] == BEGIN_AFTER_A_TURN


@thoroughly
@given(layouts(), st.sampled_from(Hand))
def test_a_knitter_who_only_reads_makes_every_square(layout: Layout, hand: Hand) -> None:
    planned = plan(layout)
    centred = layout.mitre is Mitre.CENTRED
    for place in planned.places[:6]:
        lines = foundation_lines(planned, place, hand)
        counts = read_foundation(lines)
        side = planned.size[place] * layout.stitches
        assert sum(counts) == 2 * side + centred
        steps = planned.foundation(place, hand)
        middle = read_marker(marker_line(steps, layout.mitre), counts, lines)
        assert middle == side + centred
        knitter = Knitter(sum(counts), middle, marked=centred, glossary=glossary(layout.mitre))
        for instruction in instructions(rows(side, layout.mitre)):
            knitter.work(instruction)
        assert knitter.fastened_off


@pytest.mark.parametrize("hand", Hand)
def test_row_1_begins_where_the_foundation_ends(hand: Hand) -> None:
    planned = plan(Layout(3, 3, 7, missing=frozenset({Place(1, 1)})))
    for place in planned.places:
        turned_already = foundation_lines(planned, place, hand)[-1].endswith("Do not turn again.")
        begin = begin_line(planned.foundation(place, hand))
        assert begin == (BEGIN_ON_THE_CAST_ON if turned_already else BEGIN_AFTER_A_TURN)
