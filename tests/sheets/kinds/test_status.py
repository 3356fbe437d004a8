"""What stands in the status sheet, read back from the finished PDF."""

from datetime import UTC, datetime

import pytest

from accounts.actions import add_paper_member
from drives.craft.knitter import Hand
from drives.craft.layout.layout import Layout, Mitre, Seam
from drives.craft.places import Place
from drives.models import Blanket, Ink, Paper
from drives.words.steps import short_line
from tests.cast import Cast
from tests.desk import DAY, NOW, Desk, new_blanket
from tests.sheets.conftest import ask
from tests.sheets.crowd import crowded, finish
from tests.sheets.paper import Printed
from tests.sheets.pictures import colourful, letter_height

# ISO 216:2007: A4 is 210 × 297 mm. ANSI/ASME Y14.1: size A ("Letter") is 8.5 × 11 in.
SIZES = {Paper.A4: (210, 297), Paper.LETTER: (8.5 * 25.4, 11 * 25.4)}


def test_says_everything_about_a_blanket_that_is_begun(desk: Desk, cast: Cast) -> None:
    desk.knit("A1", cast.vera, at=NOW - 20 * DAY)
    desk.claim("B1", cast.paul, by=cast.cora, at=NOW - 20 * DAY)  # due 27 October
    desk.claim("A2", cast.vera, at=NOW - 4 * DAY)  # due 12 November
    printed = Printed(ask(desk.blanket, cast))
    for words in (
        "Blanket",
        "Warm laps · Harbour Lane · for Moorside ward",
        "2 Nov 2026",
        "1 of 9 squares finished, 11 %",
        "Late (1) B1 Paul, was due 27 October cast on 19 + pick up 21 on A1 (right edge)",
        "In hand (1) A2 Vera, until 12 November pick up 21 on A1 (top edge) + cast on 19",
        "Can be begun now, best first Nothing, until more is finished.",
        "B2 waits for A2 and B1 pick up 20 on B1 (top edge) + pick up 20 on A2 (right edge)",
        "Finished (1) A1 cast on 40",
        "The rules of the receiver are not confirmed yet: ask them before anybody knits.",
        "Keep loose blankets out of the place where a baby under one year sleeps",
        "every marker and pin counted out again",
        "Changes since, by hand",
        "waiting: a square that it joins onto is not finished",
        "late: taken, and its day has passed",
        "Printed from Mitrewise",
        "page 1 of 1",
    ):
        assert words in printed.words
    assert len(printed.pages) == 1
    for column in "ABC":
        for row in "123":
            assert f"{column}{row}" in printed.words.split()


def test_says_what_to_do_where_nothing_is_begun(desk: Desk, cast: Cast) -> None:
    printed = Printed(ask(desk.blanket, cast))
    for words in (
        "0 of 9 squares finished, 0 %",
        "Nothing is late.",
        "Nothing is in hand.",
        "Can be begun now, best first (1) A1 cast on 40",
    ):
        assert words in printed.words


def test_says_that_all_is_done(desk: Desk, cast: Cast) -> None:
    everything_finished(desk.blanket, cast)
    printed = Printed(ask(desk.blanket, cast))
    assert "9 of 9 squares finished, 100 %" in printed.words
    assert "Every square is finished." in printed.words


@pytest.mark.parametrize("mitre", list(Mitre))
def test_counts_on_paper_are_those_of_the_craft(cast: Cast, mitre: Mitre) -> None:
    layout = Layout(5, 4, 23, mitre=mitre, seams=frozenset([Seam(Place(2, 1), Place(3, 1))]))
    desk = Desk(new_blanket(cast.olga, layout, claim_limit=9))
    desk.knit("A1 C1 A2 B1", cast.vera)
    for name in ("A3", "D1"):
        desk.claim(name, cast.vera)
    words = Printed(ask(desk.blanket, cast)).words
    plan = desk.blanket.plan()
    for name in ("A3", "D1", "B2"):
        steps = plan.foundation(Place.parse(name))
        assert plan.foundation(Place.parse(name), Hand.LEFT)[0].stitches == steps[-1].stitches
        assert short_line(steps) in words
    assert "Left-handed: work each line from its end to its beginning; the counts stay." in words


@pytest.mark.parametrize("paper", list(Paper))
def test_twelve_by_sixteen_with_forty_in_hand_is_one_page(cast: Cast, paper: Paper) -> None:
    blanket, held = crowded(cast)
    printed = Printed(ask(blanket, cast, paper=paper))
    assert len(held) == 40
    for name, place in held.items():
        assert f"{place} {name}, until 16 November" in printed.words
    assert len(printed.pages) == 1
    assert printed.size_mm() == pytest.approx(SIZES[paper], abs=0.01)


@pytest.mark.parametrize(("columns", "rows"), [(16, 12), (12, 16)])
def test_long_names_are_whole_and_still_one_page(cast: Cast, columns: int, rows: int) -> None:
    name = "Wilhelmina-Alexandrina Featherstonehaugh-Cholmondeley of Woolfardisworthy-in-the-Marsh"
    long_one = add_paper_member(by=cast.olga, name=name, reach="", hand="right", now=NOW)
    endless = add_paper_member(by=cast.olga, name="W" * 100, reach="", hand="right", now=NOW)
    desk = Desk(new_blanket(cast.olga, Layout(columns, rows, 20)))
    desk.blanket.name = "On and on " * 10
    desk.blanket.save(update_fields=["name"])
    desk.knit("A1", cast.vera)
    desk.claim("A2", long_one)
    desk.claim("B1", endless)
    printed = Printed(ask(desk.blanket, cast))
    assert len(printed.pages) == 1
    assert ("On and on " * 10).strip() in printed.words
    unbroken = printed.words.replace(" ", "")
    assert name.replace(" ", "") in unbroken
    assert "W" * 100 in unbroken


def test_larger_ones_take_more_pages_and_number_them(cast: Cast) -> None:
    desk = Desk(new_blanket(cast.olga, Layout(31, 17, 20)))
    desk.claim("A1", cast.vera)
    printed = Printed(ask(desk.blanket, cast))
    pages = printed.pages
    assert len(pages) == 3
    for number, page in enumerate(pages, 1):
        assert f"page {number} of 3" in page
    assert "From A1 to O17" in pages[0]
    assert "From P1 to AE17" in pages[1]
    assert {"A1", "O17"} <= set(pages[0].split())
    assert {"P1", "AE17"} <= set(pages[1].split())
    assert "A1 Vera, until 16 November" in pages[2]


def test_shows_yarn_colours_only_where_the_printer_has_ink(cast: Cast) -> None:
    desk = Desk(new_blanket(cast.olga, Layout(2, 2, 20)))
    desk.knit("A1", cast.vera)
    desk.blanket.squares.update(colour="teal")
    assert colourful(Printed(ask(desk.blanket, cast)).bytes) > 0.01
    assert colourful(Printed(ask(desk.blanket, cast, ink=Ink.BLACK)).bytes) == 0


def test_large_print_is_large(desk: Desk, cast: Cast) -> None:
    usual, large = Printed(ask(desk.blanket, cast)), Printed(ask(desk.blanket, cast, print="large"))
    for words in ("Nothing is late.", "Can be begun now", "cast on 40", "B2", "page 1 of"):
        assert words in large.words
        assert letter_height(large.bytes, words) > 1.25 * letter_height(usual.bytes, words)


def test_american_words_can_be_asked_for(desk: Desk, cast: Cast) -> None:
    printed = Printed(ask(desk.blanket, cast, english="american"))
    assert "Nov. 2, 2026" in printed.words
    assert printed.root["/Lang"] == "en-us"


def test_american_circles_read_their_own_dates(desk: Desk, cast: Cast) -> None:
    circle = desk.blanket.drive.circle
    circle.english, circle.time_zone = "american", "America/New_York"
    circle.save(update_fields=["english", "time_zone"])
    # Still the day before over there.
    desk.claim("A1", cast.vera, at=datetime(2026, 11, 2, 3, tzinfo=UTC))
    printed = Printed(ask(desk.blanket, cast))
    assert "Nov. 2, 2026" in printed.words
    assert "until November 15" in printed.words
    assert printed.root["/Lang"] == "en-us"


def test_is_tagged_has_a_title_and_its_fonts_inside(desk: Desk, cast: Cast) -> None:
    printed = Printed(ask(desk.blanket, cast))
    assert printed.root["/MarkInfo"]["/Marked"]
    assert printed.root["/Lang"] == "en-gb"
    assert printed.root["/ViewerPreferences"]["/DisplayDocTitle"]
    assert printed.pdf.metadata is not None
    assert printed.pdf.metadata.title == "Blanket: status on 2 Nov 2026"
    # ISO 14289-1: a file says in its metadata that it is PDF/UA-1.
    assert b"pdfuaid:part" in printed.root["/Metadata"].get_data()
    kinds = [element["/S"] for element in printed.tags()]
    assert kinds.count("/H1") == 1
    assert kinds.count("/H2") >= 4
    assert {"/L", "/LI", "/P"} <= set(kinds)
    figures = [element for element in printed.tags() if element["/S"] == "/Figure"]
    assert figures[0]["/Alt"] == "Map of Blanket: 0 finished, 0 taken, 1 ready"
    assert all(figure.get("/Alt") for figure in figures)
    fonts = printed.fonts()
    assert set(fonts) == {"Atkinson-Hyperlegible", "Atkinson-Hyperlegible-Bold"}
    assert all("/FontFile2" in font for font in fonts.values())


def everything_finished(blanket: Blanket, cast: Cast) -> None:
    finish(blanket, cast, list(blanket.plan().places))
