"""A real worker of letters, killed again and again while a slow mail server listens.

``python -m tests.letters.killed`` tells the figures of many mails.
"""

import os
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import psycopg
import pytest

from tests.broken import sqlite_only
from tests.letters.killed import delivered
from tests.shared.site import environment

MAILS, KILLS = 8, 2
PASSES = [
    pytest.param("embedded", marks=sqlite_only),
    pytest.param("servers", marks=pytest.mark.postgres),
]


@pytest.fixture(params=PASSES)
def env(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[dict[str, str]]:
    """Of a site of its own: on SQLite and files, or on PostgreSQL and Redis."""
    if request.param == "embedded":
        yield environment(tmp_path)
        return
    server, name = os.environ["MITREWISE_TEST_DATABASE"], "letters_of_killed_workers"
    redis = urlsplit(os.environ["MITREWISE_TEST_REDIS"])._replace(path="/10").geturl()
    with psycopg.connect(server, autocommit=True) as database:
        database.execute(f"CREATE DATABASE {name}")
        url = urlsplit(server)._replace(path=f"/{name}").geturl()
        yield environment(tmp_path) | {"MITREWISE_DATABASE_URL": url, "MITREWISE_REDIS_URL": redis}
        database.execute(f"DROP DATABASE {name} WITH (FORCE)")


def test_none_is_lost_and_what_comes_twice_is_the_same(env: dict[str, str]) -> None:
    got = delivered(env, mails=MAILS, kills=KILLS, seconds=0.2)

    assert {to for to, _ in got} == {f"{one}@example.org" for one in range(1, MAILS + 1)}
    assert len(got) == MAILS
    assert got.total() <= MAILS + KILLS
