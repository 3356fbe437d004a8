"""“I have it now”: in one step what arranging and receiving are in two, for the same people."""

from accounts.models import Member
from drives.actions.pieces import hand_overs
from drives.models import Piece
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW, Desk, refused, twice


def take(desk: Desk, by: Member) -> Piece:
    return hand_overs.take_piece(piece=desk.piece("A1"), by=by, now=NOW)


def test_who_waits_takes_it_and_waits_no_more(desk: Desk, cast: Cast, will: Member) -> None:
    desk.ask("B1", will)
    twice(lambda: take(desk, will))
    assert desk.holders() == {"A1": "Will"}
    assert desk.queue("A1") == []
    assert desk.verbs()[-2:] == ["hand-over-arranged", "hand-over-received"]


def test_whom_it_was_promised_to_takes_it_though_they_never_asked(
    desk: Desk, cast: Cast, will: Member
) -> None:
    desk.arrange("A1", will, by=cast.vera)
    desk.send("A1", by=cast.vera)
    twice(lambda: take(desk, will))
    assert desk.holders() == {"A1": "Will"}
    assert desk.verbs().count("hand-over-arranged") == 1


def test_a_coordinator_takes_what_lies_about(desk: Desk, cast: Cast) -> None:
    take(desk, cast.cora)
    assert desk.holders() == {"A1": "Cora"}


def test_others_do_not(desk: Desk, will: Member) -> None:
    told = (
        "Only the person who has the piece A1, the one who gets it next, "
        "or a coordinator can do this."
    )
    with refused("not-yours", told):
        take(desk, will)


def test_nobody_takes_what_is_promised_to_another(desk: Desk, cast: Cast, will: Member) -> None:
    desk.arrange("A1", will, by=cast.vera)
    told = "The piece A1 is promised to Will; cancel that hand-over first."
    with refused("hand-over-open", told, to="Will"):
        take(desk, cast.cora)


def test_nobody_takes_what_is_on_the_needles(desk: Desk, cast: Cast, will: Member) -> None:
    desk.claim("B1", cast.vera)
    desk.ask("A2", will)
    told = (
        "Vera has a square of the piece A1 on the needles; "
        "finish it or give it back before the piece changes hands."
    )
    with refused("piece-in-work", told, piece="A1", members=["Vera"]):
        take(desk, will)


def test_where_pieces_stay_nobody_takes_one(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    told = "In this drive the pieces stay with the circle, so there is nothing to hand over."
    with refused("no-travelling", told):
        take(desk, cast.cora)
