"""Claims, pieces, log, people and rules broken by SQL: the audit names each."""

import os
import subprocess
import sys
from io import StringIO
from pathlib import Path
from typing import Any

import pytest
from django.conf import settings
from django.core.management import call_command
from pytest_django import DjangoAssertNumQueries

from accounts.models import IdempotentCall, Member
from drives.actions.drives.drives import change_drive
from drives.audit.blankets import audit_blanket
from drives.models import Piece, Sheet, Status
from tests.broken import lines, member, run, set_square, sqlite_only
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW, SETTINGS, Desk

pytestmark = sqlite_only


def test_two_open_claims_and_a_missing_rule(desk: Desk) -> None:
    run("DROP INDEX one_open_claim_per_square")
    run(
        "INSERT INTO drives_claim (square_id, member_id, taken_at, due_at, rows_done, ending) "
        f"SELECT square_id, {member('Will')}, taken_at, due_at, 0, '' "
        "FROM drives_claim WHERE ended_at IS NULL"
    )
    assert lines() == [
        "table drives_claim: the rule one_open_claim_per_square is missing.",
        "blanket, B2, claim: breaks the rule one_open_claim_per_square: there are 2 of it.",
    ]


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ("ending = 'lapsed'", "breaks the rule ended_claim_says_how."),
        ("due_at = taken_at", "breaks the rule claim_due_after_taken."),
        (f"member_id = {member('Stan')}", "“member” names somebody of another circle."),
    ],
)
def test_claims(desk: Desk, changes: str, said: str) -> None:
    run(f"UPDATE drives_claim SET {changes} WHERE ended_at IS NULL")
    assert lines() == [f"blanket, B2, claim: {said}"]


def test_an_open_claim_that_was_lost(desk: Desk) -> None:
    run("DELETE FROM drives_claim WHERE ended_at IS NULL")
    assert lines() == ["blanket, B2: it is taken, but there is no open claim."]


def test_a_row_counter_beyond_the_last_row(desk: Desk) -> None:
    run("UPDATE drives_claim SET rows_done = 41 WHERE ended_at IS NULL")
    assert lines() == ["blanket, B2: the row counter is at 41, but there are 40 rows."]


def test_more_in_hand_than_the_drive_allows(desk: Desk, cast: Cast, will: Member) -> None:
    desk.claim("A3", cast.vera)
    run("UPDATE drives_drive SET claim_limit = 1")
    assert lines() == ["drive: Vera has 2 squares in hand, and 1 are allowed."]


def test_a_limit_lowered_by_an_organiser_breaks_nothing(desk: Desk, cast: Cast) -> None:
    desk.claim("A3", cast.vera)
    lower: Any = SETTINGS | {"claim_limit": 1}
    change_drive(drive=desk.blanket.drive, by=cast.olga, now=NOW, **lower)
    assert lines() == []


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        (
            "UPDATE drives_piece SET ended_at = begun_at, ending = 'ripped' WHERE name = 'A1'",
            "blanket, A1, A2: in piece A1, which has ended.",
        ),
        (
            "UPDATE drives_piece SET name = 'C3' WHERE name = 'A1'",
            "blanket: piece C3 does not hold the square it is named after.",
        ),
        (
            "INSERT INTO drives_piece (blanket_id, name, begun_at, ending) "
            "SELECT blanket_id, 'C3', begun_at, '' FROM drives_piece WHERE name = 'A1'",
            "blanket: piece C3 has no squares, but has not ended.",
        ),
        (
            "DELETE FROM accounts_event WHERE verb = 'finished' "
            'AND facts LIKE \'%"place": "A2"%\'',
            "blanket, A2: it is finished, but taken by the log.",
        ),
        (
            f"UPDATE accounts_event SET by_id = {member('Stan')} WHERE verb = 'planned'",
            "event: “by” names somebody of another circle.",
        ),
        (
            "UPDATE accounts_event SET topic = 'sock' WHERE verb = 'planned'",
            "event: breaks the rule event_topic_known.",
        ),
        (
            "UPDATE accounts_member SET is_organiser = 0 WHERE name = 'Olga'",
            "circle: nobody organises “Harbour Lane”.",
        ),
        (
            "UPDATE accounts_member SET left_at = joined_at WHERE name = 'Paul'",
            "member: breaks the rule member_has_a_role_until_they_leave.",
        ),
        (
            "UPDATE accounts_user SET email = 'Vera@example.org' WHERE name = 'Vera'",
            "user: breaks the rule email_in_lower_case.",
        ),
    ],
)
def test_pieces_log_and_people(desk: Desk, statement: str, said: str) -> None:
    run(statement)
    assert lines() == [said]


def test_a_piece_of_another_blanket(desk: Desk, cast: Cast, plan: Plan) -> None:
    other = plan()
    other.knit("A1", cast.vera)
    there = Piece.objects.get(blanket=other.blanket).pk
    set_square("A2", f"piece_id = {there}")
    assert lines() == [
        "blanket, A1, A2: one fabric, but 2 pieces.",
        "blanket, A2: in a piece of another blanket.",
    ]


def test_a_done_sheet_without_its_file(desk: Desk, cast: Cast) -> None:
    common = {"kind": "status", "requested_by": cast.cora, "requested_at": NOW}
    done = {"status": Status.DONE, "finished_at": NOW, "file": "sheets/lost.pdf"}
    Sheet.objects.create(blanket=desk.blanket, fingerprint="lost", **common, **done)
    Sheet.objects.create(blanket=desk.blanket, fingerprint="none", **common, **done | {"file": ""})
    assert lines() == [
        "blanket, sheet: breaks the rule done_sheet_holds_what_was_made.",
        "blanket, sheet: it is done, but its file is not there.",
        "blanket, sheet: it is done, but its file is not there.",
    ]


def test_a_call_that_was_never_answered(desk: Desk, cast: Cast) -> None:
    IdempotentCall.objects.create(user=cast.stan, key="k", fingerprint="", created_at=NOW)
    assert lines() == ["idempotent call: it was never answered."]


def test_a_database_that_lost_its_rules(desk: Desk, cast: Cast) -> None:
    IdempotentCall.objects.create(
        user=cast.stan, key="k", fingerprint="", status=200, created_at=NOW
    )
    run("CREATE TABLE copy AS SELECT * FROM accounts_idempotentcall")
    run("DROP TABLE accounts_idempotentcall")
    run("ALTER TABLE copy RENAME TO accounts_idempotentcall")
    run("INSERT INTO accounts_idempotentcall SELECT * FROM accounts_idempotentcall")
    told = lines()
    assert "table accounts_idempotentcall: the rule one_call_per_user_and_key is missing." in told
    assert told[-1] == (
        "idempotent call: breaks the rule one_call_per_user_and_key: there are 2 of it."
    )


def test_a_row_that_points_to_nothing(desk: Desk) -> None:
    set_square("C1", "knitter_id = 999999")
    (first, *_) = lines()
    assert first.startswith("database: The row in table 'drives_square' with primary key")
    set_square("C1", f"knitter_id = {member('Will')}")  # or else the test's own end would complain


def test_the_command_is_silent_when_all_is_well(desk: Desk) -> None:
    said = StringIO()
    call_command("audit", stdout=said)
    assert said.getvalue() == ""


def test_the_command_says_each_break_in_a_line_and_fails(desk: Desk) -> None:
    set_square("C2", "unmet = 2")
    said = StringIO()
    with pytest.raises(SystemExit) as end:
        call_command("audit", stdout=said)
    assert end.value.code == 1
    assert said.getvalue() == f"blanket {desk.blanket.pk}, C2: unmet is 2, but it waits for 1.\n"


@pytest.mark.parametrize("side", [2, 12])
def test_a_blanket_costs_the_same_queries_at_every_size(
    cast: Cast, plan: Plan, side: int, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    desk = plan(side, side)
    desk.knit("A1 A2", cast.vera)
    with django_assert_num_queries(8):
        assert list(audit_blanket(desk.blanket)) == []


def test_a_database_without_its_tables_is_told_in_a_sentence(tmp_path: Path) -> None:
    env = os.environ | {"MITREWISE_DATA": str(tmp_path)}
    env.pop("DJANGO_SETTINGS_MODULE", None)
    done = subprocess.run(
        [sys.executable, "manage.py", "audit"],
        env=env, cwd=settings.BASE_DIR, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 1
    assert done.stderr.strip().endswith("run migrate first.")
    assert "Traceback" not in done.stderr
