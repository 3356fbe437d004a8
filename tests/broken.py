"""Breaking rows by SQL on SQLite, whose rules can be put to sleep, and reading the audit."""

import re

import pytest
from django.db import connection

from drives.audit import audit

from .desk import places

sqlite_only = pytest.mark.skipif(
    connection.vendor != "sqlite", reason="the rules are put to sleep in SQLite's way"
)
NUMBER = re.compile(r" \d+(?=,|$)")


def run(sql: str) -> None:
    with connection.cursor() as cursor:
        cursor.execute(sql)


def set_square(name: str, changes: str) -> None:
    ((column, row),) = places(name)
    run(
        f'UPDATE drives_square SET {changes} WHERE "column" = {column} AND "row" = {row} '
        "AND blanket_id = (SELECT min(id) FROM drives_blanket)"
    )


def piece_of(name: str) -> str:
    ((column, row),) = places(name)
    return f'(SELECT piece_id FROM drives_square WHERE "column" = {column} AND "row" = {row})'


def member(name: str) -> str:
    return f"(SELECT id FROM accounts_member WHERE name = '{name}')"


def lines() -> list[str]:
    """What the audit says, with the numbers of rows left out."""
    return [f"{NUMBER.sub('', finding.where)}: {finding.what}" for finding in audit()]
