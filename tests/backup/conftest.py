"""An empty place to restore into, beside the database of the tests."""

import os
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from urllib.parse import urlsplit

import psycopg
import pytest
from django.conf import settings
from django.db import connection

from tests.broken import sqlite_only


@dataclass(frozen=True)
class EmptyPlace:
    """A site of its own, by its environment; ``data`` is its folder."""

    env: dict[str, str]
    data: Path

    def restore(self, file: Path) -> str:
        """What the command said, whether it worked or not."""
        env = os.environ | self.env
        env.pop("DJANGO_SETTINGS_MODULE", None)
        done = subprocess.run(
            [sys.executable, "manage.py", "restore", str(file)],
            env=env, cwd=settings.BASE_DIR, capture_output=True, text=True, check=False,
        )  # fmt: skip
        return done.stdout + done.stderr


@pytest.fixture(
    autouse=True,
    params=[
        pytest.param("sqlite", marks=sqlite_only),
        pytest.param("postgresql", marks=pytest.mark.postgres),
    ],
)
def vendor(request: pytest.FixtureRequest) -> str:
    """In each pass of the tests its own."""
    return str(request.param)


@pytest.fixture
def place(db: None, tmp_path: Path) -> Iterator[EmptyPlace]:
    data = tmp_path / "restored"
    data.mkdir()
    env = {"MITREWISE_DATA": str(data)}
    if connection.vendor == "sqlite":
        yield EmptyPlace(env, data)
        return
    name = f"restored_{os.environ.get('PYTEST_XDIST_WORKER', '')}"
    url = urlsplit(os.environ["MITREWISE_TEST_DATABASE"])
    with psycopg.connect(url.geturl(), autocommit=True) as server:
        server.execute(f"CREATE DATABASE {name}")
        env["MITREWISE_DATABASE_URL"] = url._replace(path=f"/{name}").geturl()
        yield EmptyPlace(env, data)
        server.execute(f"DROP DATABASE {name} WITH (FORCE)")
