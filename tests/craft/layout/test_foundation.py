"""The exact counts. TRADE.md, section 3 (common practice where no other source is named)."""

import pytest

from drives.craft.knitter import Hand
from drives.craft.layout.foundation import Edge
from drives.craft.layout.layout import Large, Layout, Mitre, Seam
from drives.craft.layout.plan import plan
from drives.craft.places import Place
from tests.craft.brief import foundation

PAIRED = Layout(2, 2, 20)
CENTRED = Layout(2, 2, 20, Mitre.CENTRED)
EQUAL = Layout(2, 2, 20, corner_trade=False)
# Two columns, three rows; the square at B1 is 2 × 2 units, C3 is missing.
MIXED = Layout(3, 3, 20, large=frozenset({Large(Place(2, 1), 2)}), missing=frozenset({Place(3, 3)}))


@pytest.mark.parametrize(
    ("place", "right", "left"),
    [
        ("A1", ["cast-on 40 first"], ["cast-on 40 first"]),
        (
            "B1",
            ["cast-on 19 first", "pick-up 21 A1 right 1–20"],
            ["pick-up 21 A1 right 1–20", "cast-on 19 last"],
        ),
        (
            "A2",
            ["pick-up 21 A1 top 1–20", "cast-on 19 last"],
            ["cast-on 19 first", "pick-up 21 A1 top 1–20"],
        ),
        (
            "B2",
            ["pick-up 20 B1 top 1–20", "pick-up 20 A2 right 1–20"],
            ["pick-up 20 A2 right 1–20", "pick-up 20 B1 top 1–20"],
        ),
    ],
)
def test_paired_with_the_corner_trade(place: str, right: list[str], left: list[str]) -> None:
    assert foundation(PAIRED, place, Hand.RIGHT) == right
    assert foundation(PAIRED, place, Hand.LEFT) == left


@pytest.mark.parametrize(
    ("place", "right", "left"),
    [
        ("A1", ["cast-on 41 first"], ["cast-on 41 first"]),
        (
            "B1",
            ["cast-on 20 first", "pick-up 21 A1 right 1–20"],
            ["pick-up 21 A1 right 1–20", "cast-on 20 last"],
        ),
        (
            "A2",
            ["pick-up 21 A1 top 1–20", "cast-on 20 last"],
            ["cast-on 20 first", "pick-up 21 A1 top 1–20"],
        ),
        (
            "B2",
            ["pick-up 20 B1 top 1–20", "corner 1", "pick-up 20 A2 right 1–20"],
            ["pick-up 20 A2 right 1–20", "corner 1", "pick-up 20 B1 top 1–20"],
        ),
    ],
)
def test_centred_with_the_corner_stitch(place: str, right: list[str], left: list[str]) -> None:
    assert foundation(CENTRED, place, Hand.RIGHT) == right
    assert foundation(CENTRED, place, Hand.LEFT) == left


def test_equal_counts_when_the_trade_is_turned_off() -> None:
    assert foundation(EQUAL, "B1") == ["cast-on 20 first", "pick-up 20 A1 right 1–20"]
    assert foundation(EQUAL, "A2") == ["pick-up 20 A1 top 1–20", "cast-on 20 last"]
    assert foundation(EQUAL, "B2") == foundation(PAIRED, "B2")


def test_the_centred_mitre_has_no_trade_to_turn_off() -> None:
    layout = Layout(2, 2, 20, Mitre.CENTRED, corner_trade=False)
    for place in ("A1", "B1", "A2", "B2"):
        assert foundation(layout, place) == foundation(CENTRED, place)


@pytest.mark.parametrize(
    ("place", "steps"),
    [
        ("A1", ["cast-on 40 first"]),
        ("A2", ["pick-up 21 A1 top 1–20", "cast-on 19 last"]),
        # the large one: 40 along its bottom are cast on, its left side has two neighbours
        ("B1", ["cast-on 39 first", "pick-up 21 A1 right 1–20", "pick-up 20 A2 right 1–20"]),
        # a small one along the left half of the large one's top edge
        ("B3", ["pick-up 20 B1 top 1–20", "pick-up 20 A3 right 1–20"]),
    ],
)
def test_large_neighbours_are_named_with_the_ridges_that_lie_along(
    place: str, steps: list[str]
) -> None:
    assert foundation(MIXED, place) == steps


def test_ridges_count_from_the_bottom_and_from_the_left() -> None:
    layout = Layout(3, 3, 20, large=frozenset({Large(Place(1, 1), 2)}))
    assert foundation(layout, "C1")[1] == "pick-up 21 A1 right 1–20"
    assert foundation(layout, "C2")[1] == "pick-up 20 A1 right 21–40"  # of 40, from the bottom
    assert foundation(layout, "A3")[0] == "pick-up 21 A1 top 1–20"
    assert foundation(layout, "B3")[0] == "pick-up 20 A1 top 21–40"  # of 40, from the left


def test_one_step_runs_along_several_units_of_the_same_large_neighbour() -> None:
    layout = Layout(4, 4, 20, large=frozenset({Large(Place(1, 1), 2), Large(Place(3, 2), 2)}))
    # C2 (2 wide) has the upper half of A1 on its left, then A3; C1 and D1 below
    assert foundation(layout, "C2") == [
        "pick-up 20 D1 top 1–20",
        "pick-up 20 C1 top 1–20",
        "pick-up 20 A1 right 21–40",
        "pick-up 20 B3 right 1–20",
    ]
    layout = Layout(4, 2, 10, large=frozenset({Large(Place(1, 1), 2), Large(Place(3, 1), 2)}))
    assert foundation(layout, "C1") == ["cast-on 19 first", "pick-up 21 A1 right 1–20"]


@pytest.mark.parametrize(("mitre", "cast_on"), [(Mitre.PAIRED, 9), (Mitre.CENTRED, 10)])
def test_a_cast_on_in_the_middle_of_the_path(mitre: Mitre, cast_on: int) -> None:
    # B2 is 2 × 2; nothing lies below its left half
    layout = Layout(
        3, 3, 10, mitre, large=frozenset({Large(Place(2, 2), 2)}), missing=frozenset({Place(2, 1)})
    )
    steps = [
        "pick-up 10 C1 top 1–10",
        f"cast-on {cast_on} between",
        "pick-up 11 A2 right 1–10",
        "pick-up 10 A3 right 1–10",
    ]
    assert foundation(layout, "B2", Hand.RIGHT) == steps
    assert foundation(layout, "B2", Hand.LEFT) == steps[::-1]


def test_cast_ons_that_meet_at_the_corner_are_one_step_even_between_two_pick_ups() -> None:
    layout = Layout(
        3,
        3,
        10,
        large=frozenset({Large(Place(2, 2), 2)}),
        missing=frozenset({Place(2, 1), Place(1, 2)}),
    )
    assert foundation(layout, "B2") == [
        "pick-up 10 C1 top 1–10",
        "cast-on 20 between",
        "pick-up 10 A3 right 1–10",
    ]
    centred = Layout(**vars(layout) | {"mitre": Mitre.CENTRED})
    assert foundation(centred, "B2")[1] == "cast-on 21 between"


def test_a_seam_is_cast_on_and_so_is_the_side_of_a_missing_place() -> None:
    seam = Layout(2, 2, 20, seams=frozenset({Seam.between(Place(2, 2), Place(1, 2))}))
    assert foundation(seam, "B2") == ["pick-up 21 B1 top 1–20", "cast-on 19 last"]
    assert foundation(seam, "A2") == foundation(PAIRED, "A2")
    hole = Layout(2, 2, 20, missing=frozenset({Place(2, 1)}))
    assert foundation(hole, "B2") == ["cast-on 19 first", "pick-up 21 A2 right 1–20"]


def test_there_is_no_word_for_a_left_or_a_bottom_edge() -> None:
    # TRADE.md, section 1: a join onto a left or a bottom edge is refused, everywhere, always
    assert {edge.value for edge in Edge} == {"right", "top"}


@pytest.mark.parametrize("columns", [1, 3])
@pytest.mark.parametrize("mitre", Mitre)
def test_planning_does_not_depend_on_the_square_s_position(columns: int, mitre: Mitre) -> None:
    planned = plan(Layout(columns + 1, 9, 12, mitre))
    shapes = {
        tuple((step.do, step.stitches, step.how) for step in planned.foundation(Place(columns, 4))),
        tuple((step.do, step.stitches, step.how) for step in planned.foundation(Place(columns, 9))),
    }
    assert len(shapes) == 1
