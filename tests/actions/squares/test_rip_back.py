"""Ripping back: only from the top, and what has to go first is named topmost first."""

from accounts.models import Member
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, refused


def test_a_ripped_square_is_open_and_what_stands_on_it_waits(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.knit("A1 B1 A2", cast.vera)
    desk.rip_back("B1", cast.cora, at=NOW + DAY)
    square = desk.square("B1")
    assert (square.state, square.finished_at, square.knitter) == ("open", None, None)
    assert desk.unmet() == {"A1": 0, "B1": 0, "A2": 0, "B2": 1}
    event = desk.events()[-1]
    assert (event.verb, event.by, event.facts) == (
        "ripped-back",
        cast.cora,
        {"place": "B1", "member": "Vera", "split": []},
    )


def test_ripping_back_twice_is_refused_the_second_time(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    desk.rip_back("A1", cast.cora)
    with refused("not-finished", "A1 is not finished, so there is nothing to rip back."):
        desk.rip_back("A1", cast.cora)


def test_a_taken_square_is_not_finished(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    with refused("not-finished", "A1 is not finished, so there is nothing to rip back."):
        desk.rip_back("A1", cast.cora)


def test_a_chain_is_named_topmost_first(cast: Cast, plan: Plan) -> None:
    desk = plan(2, 3)
    desk.knit("A1 B1 A2 B2 A3", cast.vera)
    with refused(
        "others-stand-on-it",
        "A1 carries other squares. Rip back or give back first, in this order: A3, B2, A2, B1.",
        rip_first=["A3", "B2", "A2", "B1"],
    ):
        desk.rip_back("A1", cast.cora)


def test_of_many_squares_a_sentence_names_the_first_few(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 4)
    desk.knit("A1 B1 A2 C1 B2 A3 C2 B3 A4 C3 B4 C4", cast.vera)
    with refused(
        "others-stand-on-it",
        "A1 carries other squares. Rip back or give back first, in this order: "
        "C4, B4, C3, A4, B3, C2, A3, B2 … (11 in all).",
        rip_first=["C4", "B4", "C3", "A4", "B3", "C2", "A3", "B2", "C1", "A2", "B1"],
    ):
        desk.rip_back("A1", cast.cora)


def test_a_taken_square_on_top_counts_too(cast: Cast, plan: Plan, will: Member) -> None:
    desk = plan()
    desk.knit("A1 B1 A2", cast.vera)
    desk.claim("B2", will)
    with refused(
        "others-stand-on-it",
        "A2 carries other squares. Rip back or give back first, in this order: B2.",
        rip_first=["B2"],
    ):
        desk.rip_back("A2", cast.cora)


def test_the_order_that_is_named_works(cast: Cast, plan: Plan, will: Member) -> None:
    desk = plan(3, 3)
    desk.knit("A1 B1 A2 B2 C1 A3 C2 B3", cast.vera)
    desk.claim("C3", will)
    desk.give_back("C3", will)
    for name in ["B3", "C2", "A3", "B2", "C1", "A2", "B1", "A1"]:
        desk.rip_back(name, cast.cora)
    assert desk.states() == {}
    assert desk.pieces() == {}


def test_a_ripped_square_can_be_knitted_again_by_somebody_else(
    cast: Cast, plan: Plan, will: Member
) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    desk.rip_back("A1", cast.cora)
    desk.knit("A1", will)
    assert desk.square("A1").knitter == will
    assert desk.verbs() == ["claimed", "finished", "ripped-back", "claimed", "finished"]
