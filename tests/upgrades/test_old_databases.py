"""A database of earlier days becomes one of today, and loses nothing."""

import json
from pathlib import Path

import pytest
from django.db import connection
from django.db.backends.base.base import BaseDatabaseWrapper

from drives.audit.catalogue import SchemaPart, read_parts

from .conftest import Old


def parts(database: BaseDatabaseWrapper) -> list[SchemaPart]:
    """PostgreSQL writes checks that came from a dump with other brackets; the audit knows."""
    found = sorted(read_parts(database))
    if database.vendor == "sqlite":
        return found
    return [part._replace(definition=part.definition.partition("CHECK")[0]) for part in found]


def test_it_migrates_to_the_tables_of_today_with_all_its_rows(old: Old) -> None:
    before = old.ids()
    old.manage("migrate")
    assert parts(old.connection) == parts(connection)
    assert before <= old.ids()
    assert old.manage("audit") == ""


@pytest.mark.parametrize("dump", ["between"])
def test_what_a_weaker_rule_let_through_is_mended(old: Old) -> None:
    old.run(
        "INSERT INTO django_migrations (app, name, applied) "
        "VALUES ('drives', '0004_swatch', '2026-11-25')"
    )
    old.manage("migrate")
    letters = "SELECT about, taken_at IS NULL, taken_at = sent_at FROM drives_letter ORDER BY id"
    assert old.rows(letters) == [
        ("proper", False, False),
        ("untaken", False, True),
        ("waiting", True, None),
    ]
    swatches = "SELECT colour, swatch_stitches, swatch_rows, swatch_grams * 2 FROM drives_yarn"
    assert old.rows(f"{swatches} ORDER BY id") == [
        ("heather", 20, 30, 9),
        ("moss", None, None, None),
        ("chalk", None, None, None),
    ]
    assert old.rows("SELECT fringe, washed FROM drives_gift") == [(None, None)]
    assert old.rows("SELECT name FROM django_migrations WHERE name = '0004_swatch'") == []


@pytest.mark.parametrize("dump", ["first_release"])
def test_an_invitation_that_was_mailed_has_been_taken(old: Old) -> None:
    """So that it is never sent again."""
    old.run("UPDATE accounts_invitation SET mailed_at = '2026-10-04 10:00:00' WHERE id = 2")
    old.manage("migrate")
    taken = "SELECT id, mail_taken_at = mailed_at FROM accounts_invitation ORDER BY id"
    assert old.rows(taken) == [(1, None), (2, True), (3, None)]


@pytest.mark.parametrize("dump", ["between"])
def test_a_forecast_that_was_kept_in_a_file_lies_in_its_row(old: Old, tmp_path: Path) -> None:
    kept = tmp_path / "files" / "sheets" / "1-1.json"
    kept.parent.mkdir(parents=True)
    kept.write_text('{"runs": 3}')
    told = "kind = 'forecast', status = 'done', finished_at = '2026-10-04 10:00:00'"
    old.run(f"UPDATE drives_sheet SET {told}, file = 'sheets/' || id || '-1.json'")
    rows = "SELECT id, status, foretold, file FROM drives_sheet ORDER BY id"
    old.manage("migrate")
    (first,) = old.rows(rows)
    assert first[1] == "done"
    assert json.loads(first[2]) == {"runs": 3}
    assert first[3] == ""
    assert not kept.exists()
