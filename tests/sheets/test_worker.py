"""Real workers in processes of their own, one of which is killed in the middle of its work."""

import os
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

import psycopg
import pytest
from django.db import connection

from shared.serving import processes
from tests.services import free_port
from tests.sheets.paper import texts

PATIENCE_SECONDS = 120.0
FACTS = "SELECT status, progress, attempt, file FROM drives_sheet"

Row = tuple[str, int, int, str]


@dataclass(frozen=True)
class Site:
    """A site with one sheet, by its environment; ``connect`` opens its database."""

    env: dict[str, str]
    connect: Callable[[], Any]

    def run(self, *order: str, **more: str) -> None:
        command = [sys.executable, "-m", "tests.sheets.site", *order]
        subprocess.run(command, env=self.env | more, check=True, timeout=PATIENCE_SECONDS)

    @contextmanager
    def worker(self) -> Iterator["subprocess.Popen[bytes]"]:
        command = [sys.executable, "-m", "celery", "--quiet", "--app", "shared", "worker"]
        command += ["--queues", "batches", "--concurrency", "1"]
        command += ["--without-gossip", "--without-mingle"]
        process = processes.start([*command, "--loglevel", "WARNING"], env=self.env)
        try:
            yield process
        finally:
            processes.bury(process)  # a worker that is asked takes seconds to end

    def wait_for(self, wanted: Callable[[Row], bool]) -> Row:
        """The sheet's row as soon as it is as ``wanted``."""
        deadline = time.monotonic() + PATIENCE_SECONDS
        with closing(self.connect()) as database:
            while time.monotonic() < deadline:
                row: Row = database.execute(FACTS).fetchone()
                if wanted(row):
                    return row
                time.sleep(0.02)
        raise AssertionError(f"The sheet is still {row}.")

    def files(self) -> dict[str, bytes]:
        folder = Path(self.env["MITREWISE_DATA"]) / "files"
        found = [path for path in folder.rglob("*") if path.is_file()]
        return {str(path.relative_to(folder)): path.read_bytes() for path in found}


@pytest.fixture
def embedded(tmp_path: Path, transactional_db: None) -> Site:
    """SQLite and the queue of files."""

    def connect() -> sqlite3.Connection:
        return sqlite3.connect(tmp_path / "mitrewise.sqlite3", timeout=20)

    if connection.vendor == "sqlite":  # the tables of the tests, which spares the migrations
        with closing(connect()) as copy:
            connection.ensure_connection()
            connection.connection.backup(copy)
    return Site(_env(tmp_path), connect)


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Site]:
    """PostgreSQL and Redis."""
    server, name = os.environ["MITREWISE_TEST_DATABASE"], "sheets_of_real_workers"
    with psycopg.connect(server, autocommit=True) as database:
        database.execute(f"CREATE DATABASE {name}")
        url = urlsplit(server)._replace(path=f"/{name}").geturl()
        queue = urlsplit(os.environ["MITREWISE_TEST_REDIS"])._replace(path="/9").geturl()
        env = _env(tmp_path, MITREWISE_DATABASE_URL=url, MITREWISE_REDIS_URL=queue)
        yield Site(env, lambda: psycopg.connect(url, autocommit=True))
        database.execute(f"DROP DATABASE {name} WITH (FORCE)")


def _env(data: Path, **more: str) -> dict[str, str]:
    ours = {name: value for name, value in os.environ.items() if not name.startswith("MITREWISE_")}
    return ours | {
        "MITREWISE_DATA": str(data),
        "DJANGO_SETTINGS_MODULE": "shared.settings",
        **more,
    }


def test_only_workers_load_the_renderer(tmp_path: Path) -> None:
    site = "import sys, django; django.setup(); import shared.urls, drives.sheets.tasks"
    look = f"{site}; sys.exit('weasyprint' in sys.modules)"
    subprocess.run([sys.executable, "-c", look], env=_env(tmp_path), check=True)


def test_worker_killed_in_the_middle_of_a_meetings_set_embedded(embedded: Site) -> None:
    embedded.run("ask", "crowded")
    words = one_document_in_spite_of_a_kill(embedded)
    assert words.count(", due 16 November 2026") == 40
    assert words.count("Taken by due") == 8
    assert {f"Philippa Brightwater the {number}., due" in words for number in range(1, 41)} == {
        True
    }


@pytest.mark.postgres
@pytest.mark.redis
def test_worker_killed_in_the_middle_of_a_meetings_set_served(served: Site) -> None:
    # Asked for while the queue cannot be reached: kept, and sent by the sweep.
    served.run("ask", "small", MITREWISE_REDIS_URL=f"redis://127.0.0.1:{free_port()}/0")
    served.run("sweep")
    assert one_document_in_spite_of_a_kill(served).count("Taken by due") == 1


def one_document_in_spite_of_a_kill(site: Site) -> str:
    """All its text."""
    with site.worker() as worker:
        _, before, _, _ = site.wait_for(lambda row: row[0] == "rendering" and row[1] > 5)
        os.kill(worker.pid, signal.SIGKILL)
        processes.bury(worker)  # and the process that draws, as when the machine goes down
        status, progress, attempt, _ = site.wait_for(lambda row: True)
        assert (status, attempt) == ("rendering", 1)
        assert before <= progress < 90
        assert site.files() == {}
    site.run("sweep")
    with site.worker():
        site.wait_for(lambda row: row[0] == "done")
        site.run("sweep")
        time.sleep(1)
    status, progress, attempt, name = site.wait_for(lambda row: True)
    assert (status, progress, attempt) == ("done", 100, 2)
    files = site.files()
    assert list(files) == [name]
    return " ".join(texts(files[name]))
