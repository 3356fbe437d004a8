"""What waits for what around pieces: the first keeps its transaction open, the second comes."""

import pytest
from django.db import transaction

from accounts.models import Member
from drives.actions.drives.drives import change_drive
from drives.actions.pieces import hand_overs
from drives.models import Drive
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW, SETTINGS, Desk, seams
from tests.racing import RACES, Rival, outcome, while_open

pytestmark = RACES


@pytest.mark.parametrize("mode", ["together", "travelling"])
def test_two_claims_on_the_last_room_of_a_piece(
    cast: Cast, plan: Plan, will: Member, mode: str
) -> None:
    desk = plan(3, 3, mode=mode, at_once=2)
    desk.knit("A1 B1 A2", cast.vera)
    desk.claim("C1", cast.vera)
    said = while_open(lambda: desk.claim("B2", will), lambda: desk.claim("A3", cast.olga))
    assert said == "piece-full A1 Vera Will"


def test_where_there_is_room_for_all_claims_do_not_wait(
    cast: Cast, plan: Plan, will: Member
) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    with transaction.atomic():
        desk.claim("A2", cast.vera)
        assert outcome(Rival(lambda: desk.claim("B1", will))) == "done"


def test_a_claim_waits_for_the_piece_being_received(desk: Desk, cast: Cast, will: Member) -> None:
    desk.arrange("A1", will, by=cast.vera)
    said = while_open(lambda: desk.receive("A1", will), lambda: desk.claim("B1", cast.vera))
    assert said == "piece-elsewhere A1 Will 1"
    assert desk.queue("A1") == ["Vera"]


def test_who_receives_waits_for_the_claim_and_is_refused(
    desk: Desk, cast: Cast, will: Member
) -> None:
    hand_over = desk.arrange("A1", will, by=cast.vera)
    said = while_open(
        lambda: desk.claim("B1", cast.vera),
        lambda: hand_overs.receive_piece(hand_over=hand_over, by=will, now=NOW),
    )
    assert said == "piece-in-work A1 Vera"


def test_a_claim_waits_for_the_piece_being_sent(desk: Desk, cast: Cast, will: Member) -> None:
    desk.arrange("A1", will, by=cast.vera)
    said = while_open(lambda: desk.send("A1", cast.vera), lambda: desk.claim("B1", cast.vera))
    assert said == "piece-on-its-way A1"


def test_a_claim_waits_for_the_piece_being_ripped(desk: Desk, cast: Cast) -> None:
    said = while_open(lambda: desk.rip_back("A1", cast.cora), lambda: desk.claim("B1", cast.vera))
    assert said == "not-ready A1"


def test_a_rip_waits_for_the_claim_on_the_piece(desk: Desk, cast: Cast) -> None:
    said = while_open(lambda: desk.claim("B1", cast.vera), lambda: desk.rip_back("A1", cast.cora))
    assert said == "others-stand-on-it B1"


def test_a_claim_waits_for_the_piece_being_joined_to_another(
    cast: Cast, plan: Plan, will: Member
) -> None:
    """It must not take the older piece for one that nobody has."""
    desk = plan(3, 2, seams=seams("A1-B1"), mode="travelling")
    desk.knit("A1 A2 B1", cast.vera)
    desk.claim("B2", cast.vera)
    said = while_open(lambda: desk.finish("B2", cast.vera), lambda: desk.claim("C1", will))
    assert said == "not-ready"
    assert desk.ask("C1", will).facts["piece"] == "A1"


def test_a_claim_waits_for_the_piece_being_lost(desk: Desk, cast: Cast) -> None:
    said = while_open(lambda: desk.lose("A1", cast.cora), lambda: desk.claim("B1", cast.vera))
    assert said == "not-ready A1"


def test_a_loss_waits_for_the_claim_and_releases_it(desk: Desk, cast: Cast) -> None:
    said = while_open(lambda: desk.claim("B1", cast.vera), lambda: desk.lose("A1", cast.cora))
    assert said == "done"
    assert desk.states() == {}


def test_nobody_lines_up_for_a_piece_being_ripped(desk: Desk, cast: Cast, will: Member) -> None:
    said = while_open(lambda: desk.rip_back("A1", cast.cora), lambda: desk.claim("B1", will))
    assert said == "not-ready A1"


def test_two_who_arrange_at_once(desk: Desk, cast: Cast, will: Member) -> None:
    said = while_open(
        lambda: desk.arrange("A1", will, by=cast.vera),
        lambda: desk.arrange("A1", cast.paul, by=cast.cora),
    )
    assert said == "hand-over-open Will"


def test_received_while_being_cancelled(desk: Desk, cast: Cast, will: Member) -> None:
    hand_over = desk.arrange("A1", will, by=cast.vera)
    said = while_open(
        lambda: desk.cancel("A1", cast.vera),
        lambda: hand_overs.receive_piece(hand_over=hand_over, by=will, now=NOW),
    )
    assert said == "hand-over-ended"
    assert desk.holders() == {"A1": "Vera"}


def test_pieces_laid_down_while_one_is_received(desk: Desk, cast: Cast, will: Member) -> None:
    hand_over = desk.arrange("A1", will, by=cast.vera)
    settings = SETTINGS.copy()
    drive = Drive.objects.select_related("circle").get(pk=desk.blanket.drive_id)
    said = while_open(
        lambda: change_drive(drive=drive, by=cast.olga, now=NOW, **settings),
        lambda: hand_overs.receive_piece(hand_over=hand_over, by=will, now=NOW),
    )
    assert said == "hand-over-ended"
    assert desk.holders() == {"A1": ""}
