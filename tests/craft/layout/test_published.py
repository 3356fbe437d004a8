"""Worked examples of mitred squares as their makers published them; only the numbers."""

import pytest

from drives.craft.layout.layout import Large, Layout, Mitre, Seam
from drives.craft.layout.plan import plan
from drives.craft.layout.rows import NeedleMove, RowPart, rows
from drives.craft.places import Place
from tests.craft.brief import foundation

GARDEN_GNOME = "gardengnomeathome.blogspot.com/2010/04/knitting-mitered-square.html"
MIGHTY = "yarntyouglad.com/tutorials/the-mighty-mitered-square"
OVERFLOW = (
    "monthlydishclothoverflow.blogspot.com/2018/02/says-have-happy-knitting-day-hi-fellow.html"
)


@pytest.mark.parametrize(
    ("mitre", "stitches", "cast_on", "source"),
    [
        (Mitre.CENTRED, 10, 21, MIGHTY),
        (Mitre.CENTRED, 24, 49, MIGHTY),
        (Mitre.CENTRED, 18, 37, "confessionsofaknitter.blogspot.com"),
        (Mitre.CENTRED, 31, 63, GARDEN_GNOME),
        (Mitre.PAIRED, 20, 40, "bunsofstrudel.blogspot.com/2007/04/another-sock-yarn-project.html"),
        (Mitre.PAIRED, 33, 66, "toryawintersdesigns.com/2009/06/12/mitered-square-blanket"),
    ],
)
def test_a_first_square_is_cast_on(mitre: Mitre, stitches: int, cast_on: int, source: str) -> None:
    assert foundation(Layout(1, 1, stitches, mitre), "A1") == [f"cast-on {cast_on} first"], source


@pytest.mark.parametrize(
    ("cast_on", "each_side", "left", "source"),
    [
        (49, [23], [47], OVERFLOW),
        (
            29,
            [13, 12, 11],
            [27, 25, 23],
            "pressreader.com/usa/creative-knitting/20170725/282200830964346",
        ),
        (
            31,
            [14, 13, 12],
            [29, 27, 25],
            "easycrochetpattern.blogspot.com/p/knit-mitered-square-blanket.html",
        ),
        (
            23,
            [10, 9, 8, 7, 6],
            [21, 19, 17, 15, 13],
            "snapguide.com/guides/knit-a-mitered-square",
        ),
        (63, [30, 29, 28], [61, 59, 57], GARDEN_GNOME),
        (81, [39], [79], "dianne-jones.blogspot.com/2013/04/how-to-knit-mitered-square.html"),
    ],
)
def test_the_first_decreases_of_centred_squares(
    cast_on: int, each_side: list[int], left: list[int], source: str
) -> None:
    decreases = rows((cast_on - 1) // 2, Mitre.CENTRED)[1::2][: len(left)]
    assert [row.parts for row in decreases] == [
        (RowPart(NeedleMove.KNIT, each), RowPart(NeedleMove.CDD), RowPart(NeedleMove.KNIT, each))
        for each in each_side
    ], source
    assert [row.stitches for row in decreases] == left, source


def test_half_way_through_a_square_of_49() -> None:
    # The page corrects its pattern's 35.
    row = rows(24, Mitre.CENTRED)[23]
    assert (row.row, row.stitches) == (24, 25), OVERFLOW


def test_the_whole_course_of_a_square_of_19() -> None:
    # zanotowane.pl/766/9219
    every = rows(9, Mitre.CENTRED)
    assert [row.stitches for row in every if row.side == "RS"] == [17, 15, 13, 11, 9, 7, 5, 3, 1]
    assert every[7].row == 8
    assert every[7].stitches == 11
    assert every[-1].row == 18


def test_the_last_row_of_a_square_of_29() -> None:
    # pressreader.com/usa/creative-knitting/20170725/282200830964346
    assert rows(14, Mitre.CENTRED)[-1].row == 28


def test_a_paired_square_of_40() -> None:
    # bunsofstrudel.blogspot.com/2007/04/another-sock-yarn-project.html
    every = rows(20, Mitre.PAIRED)
    assert [part.stitches for part in every[1].parts if part.move is NeedleMove.KNIT] == [18, 18]
    assert every[1].stitches == 38
    decreases = [row.stitches for row in every if row.side == "RS"]
    assert decreases[-3:] == [4, 2, 1]


def test_a_paired_square_of_66_goes_down_to_2() -> None:
    # toryawintersdesigns.com/2009/06/12/mitered-square-blanket
    assert rows(33, Mitre.PAIRED)[-2].stitches == 2


@pytest.mark.parametrize(
    ("mitre", "stitches", "size", "small", "big", "source"),
    [
        (Mitre.CENTRED, 18, 2, 37, 73, "confessionsofaknitter.blogspot.com"),
        (
            Mitre.PAIRED,
            10,
            3,
            20,
            60,
            "sheepshots.blogspot.com/2011/01/that-mitered-square-blankie.html",
        ),
    ],
)
def test_big_squares_on_small_ones(
    mitre: Mitre, stitches: int, size: int, small: int, big: int, source: str
) -> None:
    # a row of small squares below, the big one on top of them
    layout = Layout(size, size + 1, stitches, mitre, large=frozenset({Large(Place(1, 2), size)}))
    planned = plan(layout)
    totals = [sum(step.stitches for step in planned.foundation(place)) for place in planned.places]
    assert totals == [small] * size + [big], source


def test_a_join_with_one_neighbour_9_and_1_and_9() -> None:
    # zanotowane.pl/766/9219: the picked-up run takes the corner
    layout = Layout(2, 1, 9, Mitre.CENTRED)
    assert foundation(layout, "B1") == ["cast-on 9 first", "pick-up 10 A1 right 1–9"]


def test_a_join_with_two_neighbours_15_and_1_and_15() -> None:
    # shellykang.com/2006/07/connecting-the-pieces.html
    layout = Layout(2, 2, 15, Mitre.CENTRED)
    assert foundation(layout, "B2") == [
        "pick-up 15 B1 top 1–15",
        "corner 1",
        "pick-up 15 A2 right 1–15",
    ]


def test_equal_counts_24_and_24() -> None:
    # common practice, seen published
    layout = Layout(2, 1, 24, corner_trade=False)
    assert foundation(layout, "B1") == ["cast-on 24 first", "pick-up 24 A1 right 1–24"]


def test_one_stitch_is_picked_up_for_each_ridge() -> None:
    # garter edge: illitilli.com/?p=15613
    # slipped edge: shellykang.com/2006/07/connecting-the-pieces.html
    layout = Layout(2, 2, 30, seams=frozenset({Seam(Place(1, 1), Place(2, 1))}))
    assert foundation(layout, "B2") == ["pick-up 30 B1 top 1–30", "pick-up 30 A2 right 1–30"]
