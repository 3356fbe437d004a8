"""The wall map, read back from the finished PDF."""

import re
from collections import Counter
from typing import Any

import pytest
from pypdf import PageObject

from drives.craft.layout.layout import Large, Layout, Seam
from drives.craft.places import Place
from drives.drawing.wall_view import WallView
from drives.models import Blanket, Ink, Paper
from drives.sheets.kinds import WALL
from drives.sheets.tiling import A3, on_one, on_several
from tests.cast import Cast
from tests.desk import Desk, new_blanket
from tests.sheets.conftest import ask
from tests.sheets.crowd import finish
from tests.sheets.kinds.test_status import SIZES
from tests.sheets.paper import Printed
from tests.sheets.pictures import colourful


def wall(blanket: Blanket, cast: Cast, **chosen: Any) -> Printed:
    return Printed(ask(blanket, cast, kind=WALL, **chosen))


def names(words: str) -> Counter[str]:
    """Of places; where two stand close the reader may see no space between them."""
    return Counter(re.findall("[A-Z]{1,2}[1-9][0-9]*", words))


def size_mm(page: PageObject) -> tuple[float, float]:
    return float(page.mediabox.width) / 72 * 25.4, float(page.mediabox.height) / 72 * 25.4


def test_a_small_one_is_one_page_with_everything(cast: Cast) -> None:
    layout = Layout(
        6,
        7,
        20,
        missing=frozenset([Place(6, 7)]),
        large=frozenset([Large(Place(2, 3), 2)]),
        seams=frozenset([Seam(Place(3, 1), Place(4, 1))]),
    )
    desk = Desk(new_blanket(cast.olga, layout, recipient="Moorside ward"))
    desk.knit("A1", cast.vera)
    desk.blanket.squares.filter(row=1).update(colour="Dusty pink")
    desk.blanket.squares.filter(row=2).update(colour="teal")
    printed = wall(desk.blanket, cast)
    assert len(printed.pages) == 1
    for words in (
        "Blanket",
        "for Moorside ward",
        "not finished: colour it in as soon as it is",
        "was finished when this was printed",
        "seam: not joined, sewn at the end",
        "no square here",
        "a: Dusty pink",
        "b: teal",
    ):
        assert words in printed.words
    told = names(printed.words)
    for place in desk.blanket.plan().places:
        assert told[str(place)] == 1
    assert not told["F7"] + told["C3"]  # missing, and a part of a large square
    # A letter in each square of the first two rows.
    letters = Counter(printed.words.split())
    assert (letters["a"], letters["b"]) == (6, 6)
    figures = [tag for tag in printed.tags() if tag["/S"] == "/Figure"]
    assert "Wall map of Blanket" in [str(figure["/Alt"]) for figure in figures]
    assert colourful(printed.bytes) > 0.005
    assert colourful(wall(desk.blanket, cast, ink=Ink.BLACK).bytes) == 0


def test_a_larger_one_hangs_on_several_sheets(cast: Cast) -> None:
    paper = Paper.LETTER  # on A4 there is one among the golden pages
    blanket = new_blanket(cast.olga, Layout(12, 18, 20))
    finish(blanket, cast, [Place(1, 1)])
    printed = wall(blanket, cast, paper=paper)
    first, *sheets = printed.pages
    tiling = on_several(Layout(12, 18, 20), paper, large=False)
    assert len(sheets) == tiling.across * tiling.up > 1
    assert "How to put it together" in first
    assert f"Lay the {len(sheets)} sheets out" in first
    told: Counter[str] = Counter()
    views = [view for row in tiling.views for view in row]
    for view, sheet in zip(views, sheets, strict=True):
        assert f"{view.first} to {view.last}" in sheet
        told.update(names(sheet))
    assert "Row 1 of " in sheets[0]
    # Where a sheet is caught by its caption too, its corners are named once more.
    corners = Counter(str(place) for view in views for place in (view.first, view.last))
    for place in blanket.plan().places:
        assert told[str(place)] - corners[str(place)] == 1
    for page in printed.pdf.pages[1:]:
        assert sorted(size_mm(page)) == pytest.approx(sorted(SIZES[paper]), abs=0.01)
    titles = [tag for tag in printed.tags() if tag["/S"] == "/H1"]
    assert len(titles) == 1


def test_a3_is_one_page_with_every_name(cast: Cast) -> None:
    blanket = new_blanket(cast.olga, Layout(16, 12, 20))
    printed = wall(blanket, cast, tiled=False)
    assert len(printed.pages) == 1
    # ISO 216; it lies across, as the blanket does.
    assert printed.size_mm() == pytest.approx((420, 297), abs=0.01)
    told = names(printed.words)
    assert all(told[str(place)] == 1 for place in blanket.plan().places)


def test_where_names_find_no_room_they_stand_at_the_edges(cast: Cast) -> None:
    blanket = new_blanket(cast.olga, Layout(90, 2, 20))
    printed = wall(blanket, cast, tiled=False)
    assert "named by the letters below and the numbers beside" in printed.words
    told = Counter(printed.words.split())
    assert told["A1"] == 0
    assert {"A", "E", "CL", "1", "2"} <= told.keys()  # the first, every fifth, the ninetieth


def test_sheets_are_few_and_hold_each_square_once() -> None:
    """By hand: 150 units of 5 mm are 750 mm, which are 5 × 4 sheets of A4 with their strips."""
    for columns, rows, most in ((1, 1, 1), (12, 16, 6), (60, 60, 12), (1, 150, 9), (150, 150, 20)):
        layout = Layout(columns, rows, 20)
        for paper in Paper:
            tiling = on_several(layout, paper, large=False)
            views = [view for row in tiling.views for view in row]
            assert len(views) == tiling.across * tiling.up <= most
            assert covered(views) == {
                Place(column, row): 1
                for column in range(1, columns + 1)
                for row in range(1, rows + 1)
            }
            assert tiling.scale.unit >= 5
            assert tiling.scale.named == ((columns, rows) != (150, 150))


def test_large_print_has_larger_squares() -> None:
    usual, large = (
        on_several(Layout(12, 16, 20), Paper.A4, large=large) for large in (False, True)
    )
    assert large.scale.unit > usual.scale.unit
    assert large.scale.letter > usual.scale.letter
    assert on_one(Layout(1, 1, 20), A3, large=True).scale.unit == 40


def covered(views: list[WallView]) -> Counter[Place]:
    return Counter(
        Place(column, row) for view in views for column in view.columns for row in view.rows
    )


def test_a_long_legend_takes_room_from_the_map_not_a_second_page(cast: Cast) -> None:
    desk = Desk(new_blanket(cast.olga, Layout(5, 5, 20)))
    for number, square in enumerate(desk.blanket.squares.all()):
        desk.blanket.squares.filter(pk=square.pk).update(colour=f"leftover number {number}")
    printed = wall(desk.blanket, cast, print="large", paper="Letter")
    assert len(printed.pages) == 1
    assert "leftover number 24" in printed.words
    assert "E5" in names(printed.words)
