"""Tables that are not as the models would make them: the audit says in what they differ."""

import pytest
from django.db import connection

from tests.broken import lines, run, sqlite_only

pytestmark = pytest.mark.django_db

NO_ROWS = (
    "rows: none was looked at, as tables or columns are missing. "
    "Restore a whole backup into an empty place, then audit again."
)


def rewrite(table: str, old: str, new: str) -> None:
    """Changes the statement that SQLite keeps of a table."""
    run("PRAGMA writable_schema = ON")
    with connection.cursor() as cursor:
        cursor.execute("SELECT sql FROM sqlite_master WHERE name = %s", [table])
        (sql,) = cursor.fetchone()
        assert sql.count(old) == 1
        cursor.execute(
            "UPDATE sqlite_master SET sql = %s WHERE name = %s", [sql.replace(old, new), table]
        )
    run("PRAGMA writable_schema = OFF")


@sqlite_only
@pytest.mark.parametrize(
    ("table", "old", "new", "said"),
    [
        (
            "drives_letter",
            '("sent_at" >= ("taken_at") AND "taken_at" IS NOT NULL)',
            '"sent_at" >= ("taken_at")',
            "the rule letter_taken_before_it_is_sent is not as it should be: "
            'CHECK (("sent_at" IS NULL OR "sent_at" >= ("taken_at"))) instead of CHECK '
            '(("sent_at" IS NULL OR ("sent_at" >= ("taken_at") AND "taken_at" IS NOT NULL))).',
        ),
        (
            "drives_meeting",
            '"day" date NOT NULL',
            '"day" datetime NULL',
            "the column day is not as it should be: datetime NULL instead of date NOT NULL.",
        ),
        (
            "drives_meeting",
            '"day" date NOT NULL',
            '"day" date NOT NULL, "hour" integer NULL',
            "the column hour should not be there: integer NULL.",
        ),
        (
            "drives_meeting",
            '"day" date NOT NULL',
            '"day" date NOT NULL CHECK ("day" > 2000)',
            "the column day is not as it should be: "
            'date NOT NULL CHECK ("day" > 2000) instead of date NOT NULL.',
        ),
        (
            "drives_meeting",
            ', CONSTRAINT "one_meeting_per_drive_and_day" UNIQUE ("drive_id", "day")',
            "",
            "the rule one_meeting_per_drive_and_day is missing.",
        ),
        (
            "accounts_user",
            '"email" varchar(254) NOT NULL UNIQUE',
            '"email" varchar(254) NOT NULL',
            "the column email is not as it should be: "
            "varchar(254) NOT NULL instead of varchar(254) NOT NULL UNIQUE.",
        ),
    ],
)
def test_sqlite(table: str, old: str, new: str, said: str) -> None:
    rewrite(table, old, new)
    assert lines() == [f"table {table}: {said}"]


@sqlite_only
def test_another_index_under_the_right_name() -> None:
    run("DROP INDEX letters_under_way")
    run("CREATE INDEX letters_under_way ON drives_letter (member_id)")
    assert lines() == [
        "table drives_letter: the index letters_under_way is not as it should be: "
        '(member_id) instead of ("not_before") '
        'WHERE ("dropped_at" IS NULL AND "sent_at" IS NULL).'
    ]


def test_an_index_for_speed_alone_harms_nobody() -> None:
    run("CREATE INDEX quicker ON drives_letter (about)")
    assert lines() == []


@sqlite_only
def test_a_table_that_is_not_there() -> None:
    run("DROP TABLE drives_letter_sheets")
    assert lines() == ["table drives_letter_sheets: it is missing.", NO_ROWS]


@pytest.mark.parametrize(
    ("statement", "said"),
    [
        ("DROP TABLE drives_move", "table drives_move: it is missing."),
        (
            "ALTER TABLE drives_yarn DROP COLUMN place",
            "table drives_yarn: the column place is missing.",
        ),
    ],
)
def test_rows_that_cannot_be_read_end_it_with_a_sentence(statement: str, said: str) -> None:
    run(statement)
    assert lines() == [said, NO_ROWS]


@pytest.mark.postgres
@pytest.mark.parametrize(
    ("statement", "said"),
    [
        (
            "ALTER TABLE drives_letter DROP CONSTRAINT letter_taken_before_it_is_sent, "
            "ADD CONSTRAINT letter_taken_before_it_is_sent "
            "CHECK (sent_at IS NULL OR sent_at >= taken_at)",
            "table drives_letter: the rule letter_taken_before_it_is_sent is not as it should be: "
            "CHECK (((sent_at IS NULL) OR (sent_at >= taken_at))) instead of CHECK "
            "(((sent_at IS NULL) OR ((sent_at >= taken_at) AND (taken_at IS NOT NULL)))).",
        ),
        (
            "ALTER TABLE drives_meeting ALTER COLUMN day DROP NOT NULL",
            "table drives_meeting: the column day is not as it should be: "
            "date NULL instead of date NOT NULL.",
        ),
        (
            "ALTER TABLE drives_meeting ALTER COLUMN day SET DEFAULT now()",
            "table drives_meeting: the column day is not as it should be: "
            "date NOT NULL DEFAULT now() instead of date NOT NULL.",
        ),
        (
            "ALTER TABLE drives_meeting ADD CONSTRAINT late CHECK (day > '2000-01-01')",
            "table drives_meeting: the rule late should not be there: "
            "CHECK ((day > '2000-01-01'::date)).",
        ),
        (
            "ALTER TABLE drives_square DROP CONSTRAINT drives_square_unmet_check",
            "table drives_square: the rule drives_square_unmet_check is missing.",
        ),
        (
            "ALTER TABLE drives_square RENAME CONSTRAINT drives_square_unmet_check TO other",
            "",
        ),
        (
            "DROP INDEX letters_under_way; "
            "CREATE INDEX letters_under_way ON drives_letter USING hash (about)",
            "table drives_letter: the index letters_under_way is not as it should be: "
            "USING hash (about) instead of USING btree (not_before) "
            "WHERE ((dropped_at IS NULL) AND (sent_at IS NULL)).",
        ),
    ],
)
def test_postgresql(statement: str, said: str) -> None:
    run(statement)
    assert lines() == ([said] if said else [])
