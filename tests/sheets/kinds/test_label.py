"""The label for a bag, read back from the finished PDF."""

from typing import Any

import pytest
from pytest_django import Settings

from drives.actions.paper.documents import request_document
from drives.actions.pieces import hand_overs, queue
from drives.craft.layout.layout import Layout
from drives.craft.places import letters
from drives.models import HandOverWay, Options, Paper, Piece, Sheet
from drives.sheets.kinds import LABEL
from shared.basics.refusals import Refused
from tests.cast import Cast
from tests.desk import NOW, Desk, new_blanket
from tests.sheets.paper import Printed
from tests.sheets.pictures import letter_height


@pytest.fixture
def desk(cast: Cast) -> Desk:
    return Desk(new_blanket(cast.olga, Layout(2, 2, 20), mode="travelling"))


def ask(piece: Piece, cast: Cast, paper: str = Paper.A4, **chosen: Any) -> Sheet:
    options = Options(paper=paper, piece=piece.pk, **chosen)
    row = request_document(
        blanket=piece.blanket, by=cast.vera, kind=LABEL, options=options, now=NOW
    )
    return Sheet.objects.select_related("blanket__drive__circle").get(pk=row.pk)


def wait(piece: Piece, *members: Any) -> None:
    for member in members:
        queue.join_queue(pieces=[piece], member=member, by=member, now=NOW)


def test_says_what_is_in_the_bag_and_what_a_finder_should_do(desk: Desk, cast: Cast) -> None:
    desk.knit("A1 B1", cast.vera)
    printed = Printed(ask(desk.blanket.pieces.get(), cast))
    for words in (
        "Piece A1",
        "Blanket",
        "Warm laps · Harbour Lane",
        "2 squares: A1 and B1",
        "You have found this bag?",
        "bring it to:",
    ):
        assert words in printed.words
    assert "Next:" not in printed.words
    assert "Vera" not in printed.words
    assert len(printed.pages) == 1
    assert printed.size_mm()[0] == pytest.approx(210, abs=0.2)


def test_comes_on_the_paper_that_was_asked_for(desk: Desk, cast: Cast) -> None:
    desk.knit("A1", cast.vera)
    printed = Printed(ask(desk.blanket.pieces.get(), cast, Paper.LETTER))
    assert printed.size_mm()[0] == pytest.approx(215.9, abs=0.2)


def test_the_first_in_line_is_told_by_first_name_and_no_contact(desk: Desk, cast: Cast) -> None:
    desk.knit("A1", cast.vera)
    piece = desk.blanket.pieces.get()
    cast.olga.name = "Olga of the Hill"
    cast.olga.save(update_fields=["name"])
    wait(piece, cast.olga, cast.paul)
    words = Printed(ask(piece, cast)).words
    assert "Next: Olga You have" in words
    assert "Paul" not in words
    promise = hand_overs.arrange_hand_over(
        piece=piece, receiver=cast.paul, way=HandOverWay.HAND, day=None, by=cast.vera, now=NOW
    )
    hand_overs.tell_contact(hand_over=promise, by=cast.vera, contact="3 Mill Lane")
    words = Printed(ask(piece, cast)).words
    assert "Next: Paul" in words
    assert "Mill Lane" not in words
    assert "red door" not in words


def test_names_the_site_but_no_long_address(desk: Desk, cast: Cast, settings: Settings) -> None:
    settings.SITE_URL = "https://blankets.example"
    desk.knit("A1", cast.vera)
    printed = Printed(ask(desk.blanket.pieces.get(), cast))
    assert "the code opens the page of this piece at blankets.example." in printed.words
    assert "/c/" not in printed.words
    pictures = [tag for tag in printed.tags() if tag["/S"] == "/Figure"]
    assert [str(tag["/Alt"]) for tag in pictures] == ["Code that opens the page of the piece A1"]


def test_large_print_is_large_and_one_page(desk: Desk, cast: Cast) -> None:
    desk.blanket.name = "Wilhelmina-Alexandrina Featherstonehaugh of Woolfardisworthy"
    desk.blanket.save(update_fields=["name"])
    desk.knit("A1", cast.vera)
    piece = desk.blanket.pieces.get()
    usual, large = Printed(ask(piece, cast)), Printed(ask(piece, cast, print="large"))
    for words in ("Piece A1", "1 square: A1", "You have found", "Knitters of"):
        assert letter_height(large.bytes, words) > 1.4 * letter_height(usual.bytes, words)
    assert len(large.pages) == 1


def test_a_piece_of_many_squares_names_the_first(cast: Cast) -> None:
    desk = Desk(new_blanket(cast.olga, Layout(25, 1, 4), mode="travelling"))
    desk.knit(" ".join(f"{letters(column)}1" for column in range(1, 26)), cast.vera)
    words = Printed(ask(desk.blanket.pieces.get(), cast)).words
    assert "25 squares: A1, B1," in words
    assert "S1, T1 and 5 more" in words


def test_the_same_label_is_made_once(desk: Desk, cast: Cast) -> None:
    desk.knit("A1", cast.vera)
    piece = desk.blanket.pieces.get()
    assert ask(piece, cast) == ask(piece, cast)
    wait(piece, cast.paul)
    assert Sheet.objects.count() == 1
    ask(piece, cast)
    assert Sheet.objects.count() == 2


def test_there_is_none_for_a_piece_that_is_no_more(desk: Desk, cast: Cast) -> None:
    desk.knit("A1", cast.vera)
    piece = desk.blanket.pieces.get()
    asked = ask(piece, cast)
    desk.rip_back("A1", cast.cora)
    assert "This piece is no more" in Printed(asked).words
    piece.refresh_from_db()
    with pytest.raises(Refused) as refusal:
        ask(piece, cast)
    assert refusal.value.code == "piece-is-no-more"
