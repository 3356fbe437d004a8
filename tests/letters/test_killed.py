"""A real worker of letters, killed again and again while a slow mail server listens."""

import re
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path

import pytest

from shared.serving import processes
from tests.mail_server import MailServer, running
from tests.shared.site import environment, eventually

MAILS, KILLS = 8, 2


@pytest.fixture
def server() -> Iterator[MailServer]:
    with running(MailServer(seconds=0.2)) as server:
        yield server


@contextmanager
def worker(env: dict[str, str]) -> Iterator[None]:
    """Killed at the end of the block."""
    command = [sys.executable, "-m", "celery", "--quiet", "--app", "shared", "worker"]
    command += ["--queues", "letters", "--pool", "solo"]
    command += ["--without-gossip", "--without-mingle", "--loglevel", "WARNING"]
    process = processes.start(command, env=env)
    try:
        yield
    finally:
        processes.bury(process)


def test_none_is_lost_and_what_comes_twice_is_the_same(tmp_path: Path, server: MailServer) -> None:
    env = environment(tmp_path) | {"MITREWISE_SMTP_URL": f"smtp://127.0.0.1:{server.port}"}

    def run(order: str) -> None:
        command = [sys.executable, "-m", "tests.letters.site", order]
        subprocess.run(command, cwd=processes.BASE_DIR, env=env, check=True)

    def unsent() -> int:
        with closing(sqlite3.connect(tmp_path / "mitrewise.sqlite3", timeout=20)) as database:
            query = "SELECT count(*) FROM accounts_mail WHERE sent_at IS NULL"
            (count,) = database.execute(query).fetchone()
            return int(count)

    run(str(MAILS))
    for kill in range(1, KILLS + 1):
        with worker(env):
            eventually(lambda kill=kill: server.talks >= 2 * kill)  # type: ignore[misc]
    with worker(env):

        def all_sent() -> bool:
            run("sweep")  # what a killed worker had in hand is free again after its lease
            return not unsent()

        eventually(all_sent, within=60)

    got = [(field("To", told), field("Message-ID", told)) for told in server.got]
    assert {to for to, _ in got} == {f"{one}@example.org" for one in range(1, MAILS + 1)}
    assert len(set(got)) == MAILS
    assert len(got) <= MAILS + KILLS


def field(name: str, told: str) -> str:
    (value,) = re.findall(rf"^{name}: (\S+)", told, re.M)
    return str(value)
