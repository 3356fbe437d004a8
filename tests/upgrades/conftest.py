"""Databases of earlier days, filled from the dumps beside this file.

* ``first_release``: as it was first given away, before documents of several parts and yarn. Two
  circles and two blankets: one travels, with a hand-over under way and somebody in line; one is
  finished.
* ``between``: the same and some yarn, letters and a gift record, made by a state of 0002 and 0003
  that were edited later.

All their people are invented, and nobody can sign in. What every ``migrate`` writes again by
itself (content types, permissions) was left out.
"""

import os
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import psycopg
import pytest
from django.conf import settings
from django.db import connection
from django.db.backends.base.base import BaseDatabaseWrapper

from tests.broken import sqlite_only

DUMPS = Path(__file__).parent / "dumps"


@dataclass(frozen=True)
class Old:
    """A database of its own, beside that of the tests; ``env`` leads programs to it."""

    connection: BaseDatabaseWrapper
    env: dict[str, str]

    def manage(self, command: str) -> str:
        """What a command of ``manage.py`` prints; the test fails where the command does."""
        env = os.environ | self.env
        env.pop("DJANGO_SETTINGS_MODULE", None)
        done = subprocess.run(
            [sys.executable, "manage.py", command],
            env=env, cwd=settings.BASE_DIR, capture_output=True, text=True, check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stdout + done.stderr
        return done.stdout

    def run(self, sql: str) -> None:
        with self.connection.cursor() as cursor:
            cursor.execute(sql)

    def rows(self, sql: str) -> list[tuple[Any, ...]]:
        with self.connection.cursor() as cursor:
            cursor.execute(sql)
            return [tuple(row) for row in cursor.fetchall()]

    def ids(self) -> set[tuple[str, int]]:
        """Every row of our own tables but sessions, which have keys instead."""
        tables = self.connection.introspection.table_names()
        ours = {table for table in tables if table.startswith(("accounts_", "drives_"))}
        ours.discard("accounts_session")
        return {(table, pk) for table in ours for (pk,) in self.rows(f"SELECT id FROM {table}")}


@pytest.fixture(params=["first_release", "between"])
def dump(request: pytest.FixtureRequest) -> str:
    """By the name of a dump: so tests are tried on each, unless they name one."""
    return str(request.param)


@pytest.fixture(
    params=[
        pytest.param("sqlite", marks=sqlite_only),
        pytest.param("postgresql", marks=pytest.mark.postgres),
    ]
)
def vendor(request: pytest.FixtureRequest) -> str:
    """In each pass of the tests its own."""
    return str(request.param)


@pytest.fixture
def old(db: None, vendor: str, dump: str, tmp_path: Path) -> Iterator[Old]:
    text = (DUMPS / f"{dump}.{vendor}.sql").read_text()
    beside = connection.copy()
    env = {"MITREWISE_DATA": str(tmp_path)}
    if vendor == "sqlite":
        file = tmp_path / "mitrewise.sqlite3"
        with closing(sqlite3.connect(file)) as database:
            database.executescript(text)
        beside.settings_dict["NAME"] = file
    else:
        name = f"old_{os.environ.get('PYTEST_XDIST_WORKER', '')}"
        url = urlsplit(os.environ["MITREWISE_TEST_DATABASE"])
        with psycopg.connect(url.geturl(), autocommit=True) as server:
            server.execute(f"DROP DATABASE IF EXISTS {name}")
            server.execute(f"CREATE DATABASE {name}")
        there = url._replace(path=f"/{name}").geturl()
        with psycopg.connect(there) as database:
            database.execute(text)
        env["MITREWISE_DATABASE_URL"] = there
        beside.settings_dict["NAME"] = name
    beside.connect()
    with closing(beside.connection):
        yield Old(beside, env)
