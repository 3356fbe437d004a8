"""Holders, lines and hand-overs broken by SQL: the audit names each."""

import pytest

from accounts.models import Member
from drives.actions.drives.drives import change_drive
from tests.broken import lines, member, run, sqlite_only
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW, SETTINGS, Desk, seams

pytestmark = sqlite_only


@pytest.fixture
def desk(asleep: None, cast: Cast, will: Member, plan: Plan) -> Desk:
    """Two panels. Vera works on her A1, for which Olga waits; Will is to get A1 and has B1."""
    desk = plan(2, 2, seams=seams("A1-B1 A2-B2"), mode="travelling")
    desk.knit("A1", cast.vera)
    desk.knit("B1", will)
    desk.ask("A2", cast.olga)
    desk.claim("A2", cast.vera)
    desk.arrange("A1", will, by=cast.vera)
    return desk


def test_all_is_well(desk: Desk) -> None:
    assert lines() == []


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        (
            "UPDATE drives_piece SET holder_id = NULL WHERE name = 'B1'",
            ["blanket, piece B1: nobody has it."],
        ),
        (
            f"UPDATE drives_piece SET holder_id = {member('Stan')} WHERE name = 'B1'",
            ["blanket, piece B1: “holder” names somebody of another circle."],
        ),
        (
            f"UPDATE drives_piece SET holder_id = {member('Paul')} WHERE name = 'A1'",
            [
                "blanket, piece A1: Vera works on it, but Paul has it.",
                "blanket, piece A1, hand-over: Vera is to hand it over, but Paul has it.",
            ],
        ),
        (
            f"UPDATE drives_turn SET member_id = {member('Vera')}",
            ["blanket, piece A1: Vera waits for it, and has it."],
        ),
        (
            f"UPDATE drives_turn SET member_id = {member('Stan')}",
            ["blanket, piece A1, turn: “member” names somebody of another circle."],
        ),
        (
            "UPDATE drives_turn SET ending = 'served'",
            ["blanket, piece A1, turn: breaks the rule ended_turn_says_how."],
        ),
        (
            "UPDATE drives_handover SET sent_at = arranged_at",
            ["blanket, piece A1, hand-over: it is on its way, but somebody works on it."],
        ),
        (
            "UPDATE drives_handover SET ended_at = arranged_at, giver_contact = 'the blue door'",
            ["blanket, piece A1, hand-over: breaks the rule ended_hand_over_tells_no_contacts."],
        ),
        (
            "UPDATE drives_handover SET receiver_id = giver_id",
            ["blanket, piece A1, hand-over: breaks the rule hand_over_between_two_people."],
        ),
        (
            "UPDATE drives_handover SET received = 1",
            ["blanket, piece A1, hand-over: breaks the rule received_hand_over_has_ended."],
        ),
        (
            "UPDATE drives_handover SET piece_id = (SELECT id FROM drives_piece WHERE name = 'B1')",
            ["blanket, piece B1, hand-over: Vera is to hand it over, but Will has it."],
        ),
        (
            "UPDATE drives_drive SET mode = 'together'",
            [
                "blanket, piece A1: pieces stay with the circle, but Vera has it.",
                "blanket, piece A1: pieces stay with the circle, but it is being handed over.",
                "blanket, piece A1: pieces stay with the circle, but Olga waits for it.",
                "blanket, piece B1: pieces stay with the circle, but Will has it.",
            ],
        ),
    ],
)
def test_hands(desk: Desk, statement: str, said: list[str]) -> None:
    run(statement)
    assert lines() == said


def test_two_hand_overs_and_two_turns(desk: Desk) -> None:
    run("DROP INDEX one_open_hand_over_per_piece")
    run("DROP INDEX once_in_line_per_piece_and_member")
    for table in ("handover", "turn"):
        columns = {
            "handover": "piece_id, giver_id, receiver_id, way, arranged_at, note, received, "
            "giver_contact, receiver_contact",
            "turn": "piece_id, member_id, asked_at, ending",
        }[table]
        run(f"INSERT INTO drives_{table} ({columns}) SELECT {columns} FROM drives_{table}")
    assert set(lines()) == {
        "table drives_handover: the rule one_open_hand_over_per_piece is missing.",
        "blanket, piece A1, hand-over: breaks the rule one_open_hand_over_per_piece: "
        "there are 2 of it.",
        "table drives_turn: the rule once_in_line_per_piece_and_member is missing.",
        "blanket, piece A1, turn: breaks the rule once_in_line_per_piece_and_member: "
        "there are 2 of it.",
    }


def test_what_is_left_of_a_piece_that_has_ended(desk: Desk, cast: Cast) -> None:
    desk.give_back("A2", cast.vera)
    desk.rip_back("A1", cast.cora)
    run("UPDATE drives_turn SET ended_at = NULL, ending = ''")
    run("UPDATE drives_handover SET ended_at = NULL")
    assert lines() == [
        "blanket, piece A1: it has ended, but Olga waits for it.",
        "blanket, piece A1: it has ended, but is being handed over.",
    ]


def test_more_people_at_work_than_there_is_room(cast: Cast, plan: Plan, will: Member) -> None:
    desk = plan(at_once=2)
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.vera)
    desk.claim("A2", will)
    run("UPDATE drives_drive SET at_once = 1")
    assert lines() == ["blanket, piece A1: 2 people work on it, and 1 may."]


def test_what_was_begun_under_other_rules_breaks_none(cast: Cast, plan: Plan, will: Member) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.vera)
    desk.claim("A2", will)
    settings = SETTINGS.copy()
    settings["mode"] = "travelling"
    change_drive(drive=desk.blanket.drive, by=cast.olga, now=NOW, **settings)
    assert lines() == []


def test_a_loss_that_the_log_does_not_tell(desk: Desk, cast: Cast) -> None:
    desk.lose("B1", cast.cora)
    assert lines() == []
    run("DELETE FROM accounts_event WHERE verb = 'piece-lost'")
    assert lines() == ["blanket, B1: it is open, but finished by the log."]
