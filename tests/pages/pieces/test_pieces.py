"""Pieces: where they are, who waits, what may be done about them."""

import re

import pytest
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from accounts.models import Member
from drives.craft.layout.layout import Layout, Seam
from drives.craft.places import Place
from drives.models import Piece, Sheet, Turn
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, Desk, places
from tests.pages.conftest import Reader, reader, words


@pytest.fixture
def desk(plan: Plan, cast: Cast) -> Desk:
    """A travelling blanket, whose only piece, A1, is with Paul."""
    desk = plan(mode="travelling")
    desk.knit("A1", cast.paul)
    return desk


@pytest.fixture
def piece(desk: Desk) -> Piece:
    return Piece.objects.get()


def on(piece: Piece, act: str = "") -> str:
    return f"/pieces/{piece.pk}/{act}"


def square(desk: Desk, place: str, act: str = "") -> str:
    return f"/blankets/{desk.blanket.pk}/squares/{place}/{act}"


def about(days: int) -> str:
    day = timezone.localdate() + days * DAY
    return f"about {day.day} {day:%B} at the earliest"


def ask(desk: Desk, *members: Member) -> None:
    """They ask for B1 one after the other, and so for the piece that it stands on."""
    for member in members:
        assert reader(member).post(square(desk, "B1", "claim/")).status_code == 409


def test_asking_for_a_piece_elsewhere_puts_in_line_and_says_what_to_do(
    desk: Desk, vera: Reader, piece: Piece
) -> None:
    card = vera.read(square(desk, "B1"))
    assert "Its piece, piece A1, is with Paul. Asking for it puts you in line" in card
    assert "Ask for the piece" in card
    response = vera.post(square(desk, "B1", "claim/"))
    assert response.status_code == 409
    text = words(response)
    assert "B1 belongs to the piece A1, which is with Paul. You are number 1 in line for it" in text
    assert re.search(rf'href="{on(piece)}"\s*>\s*Arrange how you get it', response.text)
    assert "Take B1" not in text
    assert "Ask for the piece" not in text
    assert desk.states() == {"A1": "finished"}


def test_who_has_the_piece_takes_its_squares_as_ever(cast: Cast, olga: Reader, plan: Plan) -> None:
    desk = plan(mode="travelling")
    desk.knit("A1", cast.olga)
    assert "Take B1" in olga.read(square(desk, "B1"))
    assert "B1 is yours until" in olga.press(square(desk, "B1", "claim/"))


def test_a_coordinator_who_asks_for_another_is_told_about_the_other(
    cast: Cast, cora: Reader, desk: Desk
) -> None:
    text = cora.press(square(desk, "B1", "claim-for/"), {"member": cast.vera.pk})
    assert "Vera is number 1 in line for the piece A1, which is with Paul." in text


def test_the_page_tells_the_line_with_what_each_may_expect(
    cast: Cast, desk: Desk, vera: Reader, piece: Piece
) -> None:
    ask(desk, cast.olga, cast.vera)
    text = vera.read(on(piece))
    waits = "Olga waits for it, and 1 more is in line. It can be passed on now."
    assert f"with Paul What comes next {waits} Squares A1 Can be begun B1, A2" in text
    assert f"In line Olga, {about(3)} Vera (you), {about(6)} Leave the line" in text
    assert "Arrange how you get it" in text


def test_days_for_a_hand_over_are_the_drives(cast: Cast, vera: Reader, plan: Plan) -> None:
    desk = plan(mode="travelling", hand_over_days=10)
    desk.knit("A1", cast.paul)
    ask(desk, cast.vera)
    assert about(10) in vera.read(on(Piece.objects.get()))


def test_the_line_moves_on_when_its_head_leaves(
    cast: Cast, desk: Desk, vera: Reader, piece: Piece
) -> None:
    ask(desk, cast.vera, cast.olga)
    text = vera.press(on(piece, f"line/{cast.vera.pk}/leave/"))
    assert "Vera no longer waits for the piece A1." in text
    assert f"In line Olga, {about(3)}" in text
    assert Turn.objects.waiting().get().member == cast.olga


def test_only_a_coordinator_takes_others_out_of_a_line(
    cast: Cast, desk: Desk, cora: Reader, vera: Reader, stan: Reader, piece: Piece
) -> None:
    ask(desk, cast.olga)
    address = on(piece, f"line/{cast.olga.pk}/leave/")
    assert vera.post(address).status_code == 403
    assert stan.post(address).status_code == 404
    assert "Olga no longer waits" in cora.press(address)


def test_the_board_shows_pieces_only_where_that_tells_something(
    cast: Cast, desk: Desk, vera: Reader, plan: Plan
) -> None:
    ask(desk, cast.olga)
    board = vera.get(f"/blankets/{desk.blanket.pk}/")
    assert "Pieces Piece Squares Where it is In line A1 A1 with Paul Olga" in words(board)
    assert 'aria-label="A1, finished, joins onto nothing, in piece A1"' in board.text
    assert "taking it puts you in line" in words(board)

    together = plan()
    together.knit("A1", cast.vera)
    board = vera.get(f"/blankets/{together.blanket.pk}/")
    assert "Piece" not in words(board)
    assert "in piece" not in board.text


def test_all_pieces_stand_on_one_page(cast: Cast, desk: Desk, vera: Reader, plan: Plan) -> None:
    text = vera.read(f"/blankets/{desk.blanket.pk}/pieces/")
    assert "Piece A1 Where it is with Paul" in text
    empty = vera.read(f"/blankets/{plan().blanket.pk}/pieces/")
    assert "There is none yet: the first finished square begins one." in empty


def test_a_coordinator_says_who_really_has_it(
    cast: Cast, desk: Desk, cora: Reader, piece: Piece
) -> None:
    ask(desk, cast.vera, cast.olga)
    text = cora.read(on(piece, "found/"))
    assert "So far it counts as being with Paul." in text
    text = cora.press(on(piece, "found/"), {"member": cast.vera.pk})
    assert "The piece A1 is with Vera." in text
    assert f"In line Olga, {about(3)}" in text


def test_a_loss_is_told_exactly_before_it_is_done(
    cast: Cast, desk: Desk, cora: Reader, piece: Piece
) -> None:
    desk.claim("B1", cast.paul)
    assert reader(cast.vera).post(square(desk, "A2", "claim/")).status_code == 409
    text = cora.read(on(piece, "lost/"))
    for sentence in (
        "A1 is unfinished again, and must be knitted anew.",
        "B1, which Paul is knitting, hangs on it and is released.",
        "Nobody waits for it any more: Vera.",
        "It cannot be undone. The plan starts again from what is left.",
    ):
        assert sentence in text
    assert desk.states() == {"A1": "finished", "B1": "taken"}
    text = cora.press(on(piece, "lost/"))
    assert "The piece A1 is gone from the plan." in text
    assert "Cora noted that piece A1 is lost: A1 must be knitted anew." in text
    assert desk.states() == {}


def test_a_piece_that_is_no_more_still_answers_its_label(
    cast: Cast, desk: Desk, cora: Reader, vera: Reader, piece: Piece
) -> None:
    cora.press(on(piece, "lost/"))
    text = vera.read(on(piece))
    assert "This piece is no more: lost on" in text
    assert "Its first square" not in text
    response = cora.get(on(piece, "lost/"))
    assert response.status_code == 409
    assert "The piece A1 is no more." in words(response)
    assert vera.post(on(piece, "label/"), {"paper": "A4"}).status_code == 409


def test_a_piece_that_was_joined_leads_to_the_one_it_is_in(
    cast: Cast, vera: Reader, plan: Plan
) -> None:
    layout = Layout(2, 2, 20, missing=frozenset(places("A1")))  # two base squares under B2
    desk = plan(layout=layout, mode="travelling")
    desk.knit("A2 B1", cast.vera)
    joined = Piece.objects.get(name="B1")
    desk.knit("B2", cast.vera)
    text = vera.read(on(joined))
    assert "This piece is no more: joined to another" in text
    assert "Its first square is now in piece A2" in text
    log = vera.read(f"/blankets/{desk.blanket.pk}/log/")
    assert "It joins the pieces A2 and B1: together they are piece A2." in log


@pytest.mark.parametrize("role", ["vera", "cora", "olga"])
def test_what_only_coordinators_may_do_is_shown_to_them_alone(
    cast: Cast, piece: Piece, role: str
) -> None:
    text = reader(getattr(cast, role)).read(on(piece))
    assert ("It is lost or spoilt" in text) == (role != "vera")
    assert ("Somebody else has it" in text) == (role != "vera")


def test_the_card_of_a_finished_square_names_its_piece(
    desk: Desk, vera: Reader, piece: Piece
) -> None:
    response = vera.get(square(desk, "A1"))
    assert "It is part of piece A1." in words(response)
    assert f'href="{on(piece)}"' in response.text


def test_whoever_packs_the_bag_prints_its_label(
    cast: Cast, desk: Desk, vera: Reader, stan: Reader, piece: Piece
) -> None:
    assert "Label on A4 Label on US Letter" in vera.read(on(piece))
    text = vera.press(on(piece, "label/"), {"paper": "Letter"})
    assert "Label for a bag It waits for its turn." in text
    sheet = Sheet.objects.get()
    assert sheet.options == {"paper": "Letter", "piece": piece.pk}
    assert stan.get(f"/sheets/{sheet.pk}/").status_code == 404


@pytest.mark.parametrize("names", ["A1", "A1 C1 E1"])
def test_the_pieces_take_as_many_queries_for_any_number_of_them(
    cast: Cast,
    vera: Reader,
    plan: Plan,
    django_assert_num_queries: DjangoAssertNumQueries,
    names: str,
) -> None:
    seams = frozenset(Seam(Place(left, 1), Place(left + 1, 1)) for left in (2, 4))
    desk = plan(layout=Layout(6, 1, 20, seams=seams), mode="travelling")
    desk.knit(names, cast.paul)
    address = f"/blankets/{desk.blanket.pk}/pieces/"
    vera.get(address)  # the plan is worked out once
    with django_assert_num_queries(9):
        vera.get(address)


def test_around_one_table_pieces_are_shown_without_hands(
    cast: Cast, vera: Reader, plan: Plan
) -> None:
    seam = frozenset([Seam(Place(1, 1), Place(2, 1))])
    desk = plan(layout=Layout(2, 1, 20, seams=seam))
    desk.knit("A1 B1", cast.vera)
    assert "Pieces Piece Squares A1 A1 B1 B1" in vera.read(f"/blankets/{desk.blanket.pk}/")
    text = vera.read(f"/blankets/{desk.blanket.pk}/pieces/")
    assert "Piece A1 Where it is with the circle Squares A1" in text
    assert "In line" not in text
    assert "Arrange" not in text
