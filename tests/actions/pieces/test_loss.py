"""A piece that is lost: its squares are open again, and the plan starts from what is left."""

import pytest

from accounts.models import Member
from drives.actions.pieces import loss
from drives.audit import audit
from drives.models import Claim, HandOver
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk, nothing_changes, seams


@pytest.fixture
def desk(cast: Cast, plan: Plan, will: Member) -> Desk:
    """Two panels: Vera has A1 and A2 and works on A3, Will has B1 and works on B2 and C1."""
    desk = plan(3, 3, seams=seams("A1-B1 A2-B2 A3-B3"), mode="travelling", claim_limit=3)
    desk.knit("A1 A2", cast.vera)
    desk.claim("A3", cast.vera)
    desk.knit("B1", will)
    desk.claim("B2", will)
    desk.claim("C1", will)
    return desk


def test_its_squares_are_open_again_and_others_as_they_were(desk: Desk, cast: Cast) -> None:
    assert desk.lose("B1", cast.cora, at=NOW + DAY) == ["B1"]
    assert desk.states() == {"A1": "finished", "A2": "finished", "A3": "taken"}
    assert desk.pieces() == {"A1": {"A1", "A2"}}
    waiting = {name for name, unmet in desk.unmet().items() if unmet}
    assert waiting == {"B2", "B3", "C1", "C2", "C3"}
    assert list(audit()) == []


def test_what_was_in_hand_on_it_is_released(desk: Desk, cast: Cast) -> None:
    desk.lose("B1", cast.cora, at=NOW + DAY)
    endings = Claim.objects.filter(ended_at=NOW + DAY).values_list("ending", flat=True)
    assert list(endings) == ["released", "released"]
    event = desk.events()[-1]
    assert (event.verb, event.by) == ("piece-lost", cast.cora)
    assert event.facts == {"piece": "B1", "squares": ["B1"], "released": ["B2", "C1"]}


def test_nobody_waits_for_it_and_it_is_nowhere_on_its_way(
    desk: Desk, cast: Cast, will: Member
) -> None:
    desk.give_back("A3", cast.vera)
    desk.ask("A3", cast.olga)
    desk.arrange("A1", will, by=cast.vera)
    desk.send("A1", cast.vera)
    lost = desk.piece("A1")
    desk.lose("A1", cast.cora)
    lost.refresh_from_db()
    assert lost.ending == "lost"
    assert not lost.turns.waiting().exists()
    assert not HandOver.objects.open().exists()


def test_it_is_lost_once(desk: Desk, cast: Cast) -> None:
    lost = desk.piece("B1")
    desk.lose("B1", cast.cora)
    with nothing_changes():
        assert loss.declare_piece_lost(piece=lost, by=cast.cora, now=NOW) == []


def test_it_can_be_knitted_again(desk: Desk, cast: Cast) -> None:
    desk.lose("B1", cast.cora)
    desk.knit("B1", cast.olga)
    assert desk.holders() == {"A1": "Vera", "B1": "Olga"}


def test_a_square_that_stands_on_a_lost_and_another_piece_is_released_too(
    cast: Cast, plan: Plan
) -> None:
    desk = plan(2, 2, seams=seams("A1-B1"), mode="travelling")
    desk.knit("A1 A2 B1", cast.vera)
    desk.claim("B2", cast.vera)
    desk.lose("B1", cast.cora)
    assert desk.states() == {"A1": "finished", "A2": "finished"}
    assert desk.unmet()["B2"] == 1
    assert list(audit()) == []


def test_around_one_table_a_piece_can_be_spoilt_too(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.knit("A1 B1", cast.vera)
    assert desk.lose("A1", cast.cora) == ["A1", "B1"]
    assert desk.states() == {}
