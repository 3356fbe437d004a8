"""Pieces: begun by base squares, made one by a square on several, split and ended by ripping."""

from drives.craft.layout.layout import Large
from drives.craft.places import Place
from drives.models import Piece
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, seams


def test_a_base_square_begins_a_piece_and_others_join_it(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.knit("A1 B1 A2", cast.vera)
    assert desk.pieces() == {"A1": {"A1", "B1", "A2"}}


def test_together_pieces_belong_to_the_circle(cast: Cast, plan: Plan) -> None:
    desk = plan(mode="together")
    desk.knit("A1", cast.vera)
    assert desk.blanket.pieces.get().holder is None


def test_travelling_the_first_knitter_holds_the_piece(cast: Cast, plan: Plan) -> None:
    desk = plan(mode="travelling")
    desk.knit("A1 B1", cast.vera)
    assert desk.blanket.pieces.get().holder == cast.vera


def test_each_side_of_a_seam_is_a_piece(cast: Cast, plan: Plan) -> None:
    desk = plan(2, 2, seams=seams("A1-B1 A2-B2"))
    desk.knit("A1 B1 B2 A2", cast.vera)
    assert desk.pieces() == {"A1": {"A1", "A2"}, "B1": {"B1", "B2"}}


def test_a_square_on_two_pieces_makes_them_one_by_the_older_name(cast: Cast, plan: Plan) -> None:
    # Only the upper row joins: the seam parts A1 from B1.
    desk = plan(2, 2, seams=seams("A1-B1"))
    desk.knit("B1", cast.vera)
    desk.knit("A1", cast.vera, at=NOW + DAY)
    desk.knit("A2", cast.vera, at=NOW + DAY)
    desk.knit("B2", cast.vera, at=NOW + 2 * DAY)
    assert desk.pieces() == {"B1": {"A1", "A2", "B1", "B2"}}
    assert Piece.objects.get(name="A1").ended_at == NOW + 2 * DAY
    facts = desk.events()[-1].facts
    assert (facts["piece"], facts["merged"]) == ("B1", ["A1"])


def test_ripping_the_square_between_splits_the_piece_again(cast: Cast, plan: Plan) -> None:
    desk = plan(2, 2, seams=seams("A1-B1"), mode="travelling")
    desk.knit("A1 A2 B1 B2", cast.vera)
    assert desk.pieces() == {"A1": {"A1", "A2", "B1", "B2"}}
    desk.rip_back("B2", cast.cora)
    assert desk.pieces() == {"A1": {"A1", "A2"}, "B1": {"B1"}}
    assert desk.events()[-1].facts["split"] == ["B1"]
    # The fabric was one and in one pair of hands, so both parts still are.
    assert set(desk.blanket.pieces.filter(ended_at=None).values_list("holder__name")) == {("Vera",)}


def test_ripping_the_last_square_ends_the_piece(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    desk.rip_back("A1", cast.cora, at=NOW + DAY)
    assert desk.pieces() == {}
    assert desk.blanket.pieces.get().ended_at == NOW + DAY


def test_a_place_can_begin_a_piece_again(cast: Cast, plan: Plan) -> None:
    desk = plan()
    for _ in range(2):
        desk.knit("A1", cast.vera)
        desk.rip_back("A1", cast.cora)
    desk.knit("A1", cast.vera)
    assert desk.pieces() == {"A1": {"A1"}}
    assert desk.blanket.pieces.count() == 3


def test_a_large_square_can_join_three_pieces(cast: Cast, plan: Plan) -> None:
    desk = plan(
        3,
        3,
        large=frozenset({Large(Place.parse("B2"), 2)}),
        seams=seams("A1-B1 B1-C1 A1-A2 A2-A3"),
        claim_limit=9,
    )
    for name in ("C1", "A2", "B1", "A1", "A3"):
        desk.knit(name, cast.vera)
    assert len(desk.pieces()) == 5
    desk.knit("B2", cast.vera)
    assert desk.pieces() == {"C1": {"C1", "A2", "B1", "A3", "B2"}, "A1": {"A1"}}
    assert desk.events()[-1].facts["merged"] == ["A2", "B1", "A3"]
    desk.rip_back("B2", cast.cora)
    assert {name: len(held) for name, held in desk.pieces().items()} == {
        "C1": 1,
        "A2": 1,
        "B1": 1,
        "A3": 1,
        "A1": 1,
    }
