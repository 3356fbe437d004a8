"""The meeting list, read back from the finished PDF."""

from datetime import date
from typing import Any

import pytest

from accounts.actions import add_paper_member, remove_member
from drives.actions.circles import calendar
from drives.craft.knitter import Hand
from drives.craft.layout.layout import Layout
from drives.craft.places import Place
from drives.models import Paper
from drives.sheets.kinds import MEETING
from drives.words.steps import short_line
from tests.cast import Cast
from tests.desk import DAY, NOW, Desk, new_blanket
from tests.sheets.conftest import ask
from tests.sheets.kinds.test_status import SIZES
from tests.sheets.paper import Printed

LONG = "Wilhelmina-Alexandrina Featherstonehaugh-Cholmondeley of Wool"


@pytest.fixture
def desk(cast: Cast) -> Desk:
    """A piece is with Vera, who is late with B1 on it; Paul waits for it."""
    desk = Desk(new_blanket(cast.olga, Layout(3, 3, 20), mode="travelling"))
    desk.knit("A1", cast.vera, at=NOW - 20 * DAY)
    desk.claim("B1", cast.vera, at=NOW - 20 * DAY)
    desk.ask("A2", cast.paul)
    return desk


def listed(desk: Desk, cast: Cast, **chosen: Any) -> Printed:
    return Printed(ask(desk.blanket, cast, kind=MEETING, **chosen))


def test_who_comes_with_what_and_could_begin_what(desk: Desk, cast: Cast) -> None:
    printed = listed(desk, cast)
    for words in (
        "List for the meeting · Warm laps · Harbour Lane · as of 2 Nov 2026",
        "1 of 9 squares finished, 1 in hand, 1 can be begun now",
        "Late: B1, Vera, was due 27 October.",
        "B1, was due 27 October piece A1, 1 square",
        "Paul waits for piece A1",
        "A2 pick up 21 on A1 (top edge) + cast on 19",
        "What each could begin is a suggestion",
    ):
        assert words in printed.words
    assert "Day:" in printed.words
    assert "Cora" not in printed.words  # she does not knit, and has nothing
    assert printed.words.count("cast on") == 1  # where a piece has one pair of hands, one of them


def test_what_is_agreed_for_a_piece_stands_with_both(desk: Desk, cast: Cast) -> None:
    desk.give_back("B1", cast.vera)
    desk.arrange("A1", cast.paul, cast.vera)
    printed = listed(desk, cast)
    assert "gives piece A1 to Paul" in printed.words
    assert "gets piece A1 from Vera" in printed.words
    assert "waits for piece A1" not in printed.words
    assert "cast on 19; needs piece A1 from Vera" in printed.words


def test_who_is_away_that_day_comes_first_and_not_in_the_list(desk: Desk, cast: Cast) -> None:
    day = date(2026, 11, 14)
    calendar.add_meeting(drive=desk.blanket.drive, day=date(2026, 11, 1), by=cast.cora, now=NOW)
    calendar.add_meeting(drive=desk.blanket.drive, day=day, by=cast.cora, now=NOW)
    calendar.add_absence(
        member=cast.vera, first=day, last=date(2026, 11, 20), by=cast.vera, now=NOW
    )
    words = listed(desk, cast).words
    assert "Saturday, 14 Nov 2026" in words
    for told in (
        "Nobody comes with: B1: Vera is away until 20 November; piece A1: Vera is away",
        "Away: Vera.",
        "Ready, and suggested to nobody: A2.",
    ):
        assert told in words
    assert "Comes with Hands on, gets Could begin next Done, signed Olga Paul What" in words
    earlier = desk.blanket.drive.meetings.get(day=date(2026, 11, 1))
    assert "Sunday, 1 Nov 2026" in listed(desk, cast, meeting=earlier.pk).words


def test_who_has_left_is_told_too(desk: Desk, cast: Cast) -> None:
    remove_member(member=cast.vera, by=cast.olga, now=NOW)
    assert "B1: Vera has left the circle" in listed(desk, cast).words


def test_around_one_table_everybody_gets_one_in_their_own_hand(cast: Cast) -> None:
    desk = Desk(new_blanket(cast.olga, Layout(3, 3, 20), claim_limit=3))
    lena = add_paper_member(by=cast.olga, name="Lena", reach="", hand="left", now=NOW)
    desk.knit("A1 B1 A2", cast.vera)
    desk.claim("C1", cast.olga)
    desk.claim("A3", cast.vera)
    plan = desk.blanket.plan()
    words = listed(desk, cast).words
    assert f"Lena B2 {short_line(plan.foundation(Place.parse('B2'), Hand.LEFT))}" in words
    desk.claim("B2", lena)
    assert "0 can be begun now" in listed(desk, cast).words


def test_forty_and_a_long_name_with_headings_on_each_page(cast: Cast) -> None:
    names = [LONG, *(f"Philippa Brightwater the {number}." for number in range(40))]
    for name in names:
        add_paper_member(by=cast.olga, name=name, reach="", hand="right", now=NOW)
    desk = Desk(new_blanket(cast.olga, Layout(3, 3, 20)))
    printed = listed(desk, cast)
    pages = printed.pages
    assert len(pages) > 1
    for page in pages:
        assert "Who Comes with Hands on, gets Could begin next Done, signed" in page
    unbroken = printed.words.replace(" ", "")
    for name in names:
        assert name.replace(" ", "") in unbroken
    assert printed.size_mm() == pytest.approx(SIZES[Paper.A4], abs=0.01)


def test_large_print_lies_across(desk: Desk, cast: Cast) -> None:
    width, height = SIZES[Paper.LETTER]
    printed = listed(desk, cast, paper=Paper.LETTER, print="large", english="american")
    assert printed.size_mm() == pytest.approx((height, width), abs=0.01)
    assert "was due October 27" in printed.words


def test_is_tagged_as_a_table(desk: Desk, cast: Cast) -> None:
    printed = listed(desk, cast)
    kinds = [element["/S"] for element in printed.tags()]
    assert kinds.count("/H1") == 1
    assert kinds.count("/H2") == 2
    assert {"/Table", "/TR", "/TH", "/TD"} <= set(kinds)
    assert printed.pdf.metadata is not None
    assert printed.pdf.metadata.title == "Blanket: list for a meeting"
