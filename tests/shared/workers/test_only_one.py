"""One of several: who has the lease, who takes over and when; and two real schedulers."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import urlsplit

import psycopg
import pytest

from shared.models import Lease
from shared.serving import processes
from shared.workers.only_one import BEAT_SECONDS, DEAD_SECONDS, OnlyOne
from shared.workers.scheduler import ENDS_WITHIN_SECONDS
from tests.broken import sqlite_only

LATE = 5.0  # seconds that a busy machine may add


class Clock:
    """The time that passes for the processes of a test."""

    now = 0.0

    def __call__(self) -> float:
        return self.now

    def passes(self, seconds: float, *busy: OnlyOne) -> None:
        """Those that are ``busy`` ask now and then meanwhile."""
        until = self.now + seconds
        while self.now < until:
            self.now = min(until, self.now + BEAT_SECONDS)
            for each in busy:
                each.is_ours()


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def first(db: None, clock: Clock) -> OnlyOne:
    return OnlyOne("work", clock=clock)


@pytest.fixture
def second(db: None, clock: Clock) -> OnlyOne:
    return OnlyOne("work", clock=clock)


PASSES = [
    pytest.param("sqlite", marks=sqlite_only),
    pytest.param("postgresql", marks=pytest.mark.postgres),
]


@pytest.fixture(params=PASSES)
def each_pass() -> None:
    """The test runs in both passes."""


@pytest.mark.usefixtures("each_pass")
def test_one_has_it_for_as_long_as_it_lives(first: OnlyOne, second: OnlyOne, clock: Clock) -> None:
    assert (first.is_ours(), second.is_ours()) == (True, False)
    for _minute in range(10):
        clock.passes(10, first, second)
        assert (first.is_ours(), second.is_ours()) == (True, False)


@pytest.mark.usefixtures("each_pass")
def test_one_that_dies_is_followed_in_time(first: OnlyOne, second: OnlyOne, clock: Clock) -> None:
    first.is_ours()
    clock.passes(3, first, second)
    clock.passes(DEAD_SECONDS - BEAT_SECONDS, second)
    assert not second.is_ours()
    clock.passes(2 * BEAT_SECONDS, second)
    assert second.is_ours()
    assert not first.is_ours()  # it was only asleep
    clock.passes(60, second, first)
    assert (second.is_ours(), first.is_ours()) == (True, False)


def test_one_that_gives_up_is_followed_at_once(first: OnlyOne, second: OnlyOne) -> None:
    assert first.is_ours()
    assert not second.is_ours()
    first.give_up()
    assert (second.is_ours(), first.is_ours()) == (True, False)
    first.give_up()  # it has nothing to give up
    assert not first.is_ours()


def test_nobody_takes_what_another_took_in_between(
    first: OnlyOne, second: OnlyOne, clock: Clock
) -> None:
    dead, watching = OnlyOne("work", clock=clock), (first, second)
    dead.is_ours()
    for _each in range(10):
        clock.passes(BEAT_SECONDS, *watching)
        assert sum(each.is_ours() for each in watching) <= 1
    assert sum(each.is_ours() for each in watching) == 1


def test_leases_of_other_names_are_others(first: OnlyOne, clock: Clock) -> None:
    assert first.is_ours()
    assert OnlyOne("other work", clock=clock).is_ours()


def test_after_a_restore_somebody_goes_on(first: OnlyOne, second: OnlyOne, clock: Clock) -> None:
    first.is_ours()
    Lease.objects.update(holder="somebody of old", beat=7)
    clock.passes(DEAD_SECONDS + 2 * BEAT_SECONDS, first, second)
    assert {first.is_ours(), second.is_ours()} == {True, False}


# --- Two real schedulers, as two hosts start them ---


@pytest.fixture(params=PASSES)
def database(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[dict[str, str]]:
    """What leads both hosts to one database with nothing but the lease in it."""
    if request.param == "sqlite":
        env = {"MITREWISE_TEST_SQLITE": str(tmp_path / "of-both.sqlite3")}
        migrate(env, tmp_path)
        yield env
        return
    server, name = os.environ["MITREWISE_TEST_DATABASE"], "two_schedulers"
    with psycopg.connect(server, autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}")
        env = {"MITREWISE_DATABASE_URL": urlsplit(server)._replace(path=f"/{name}").geturl()}
        migrate(env, tmp_path)
        yield env
        connection.execute(f"DROP DATABASE {name} WITH (FORCE)")


def environment(database: dict[str, str], data: Path) -> dict[str, str]:
    ours = {name: value for name, value in os.environ.items() if not name.startswith("MITREWISE_")}
    own = {
        "MITREWISE_DATA": str(data),
        "DJANGO_SETTINGS_MODULE": "tests.shared.workers.busy_schedule",
    }
    return ours | database | own


def migrate(database: dict[str, str], data: Path) -> None:
    command = [sys.executable, "-m", "django", "migrate", "shared", "--verbosity", "0"]
    subprocess.run(command, env=environment(database, data), cwd=processes.BASE_DIR, check=True)


class Host:
    """A host with a scheduler, and a queue of its own that tells what it has sent."""

    def __init__(self, database: dict[str, str], data: Path) -> None:
        data.mkdir()
        self._queue = data / "queue" / "waiting"
        command = [sys.executable, "-m", "celery", "--quiet", "--skip-checks", "--app", "shared"]
        command += ["beat", "--loglevel", "WARNING"]
        self.scheduler = processes.start(command, env=environment(database, data))

    def sent(self) -> int:
        return len(list(self._queue.glob("*"))) if self._queue.exists() else 0


@contextmanager
def host(database: dict[str, str], data: Path) -> Iterator[Host]:
    made = Host(database, data)
    try:
        yield made
    finally:
        processes.bury(made.scheduler)


def eventually(holds: Callable[[], bool], within: float) -> None:
    deadline = time.monotonic() + within
    while not holds():
        assert time.monotonic() < deadline, "waited in vain"
        time.sleep(0.05)


def test_of_two_schedulers_one_works(database: dict[str, str], tmp_path: Path) -> None:
    with host(database, tmp_path / "a") as one, host(database, tmp_path / "b") as other:
        eventually(lambda: one.sent() + other.sent() > 0, within=30)
        at_work, standing_by = (one, other) if one.sent() else (other, one)
        before = at_work.sent()
        time.sleep(2 * BEAT_SECONDS)
        assert at_work.sent() > before
        assert standing_by.sent() == 0
        processes.bury(at_work.scheduler)  # kill -9
        eventually(lambda: standing_by.sent() > 0, within=DEAD_SECONDS + 2 * BEAT_SECONDS + LATE)


@pytest.mark.parametrize("database", PASSES[1:], indirect=True)
@pytest.mark.parametrize(("lets_go", "code"), [(True, 0), (False, -signal.SIGALRM)])
def test_one_that_is_told_to_end_while_the_database_holds_it_up_ends(
    database: dict[str, str], tmp_path: Path, lets_go: bool, code: int
) -> None:
    with (
        host(database, tmp_path / "a") as one,
        psycopg.connect(database["MITREWISE_DATABASE_URL"]) as other,
    ):
        eventually(lambda: one.sent() > 0, within=30)
        other.execute("SELECT FROM shared_lease FOR UPDATE")
        waiting = "SELECT FROM pg_stat_activity WHERE wait_event_type = 'Lock'"
        waiting += " AND datname = current_database()"
        eventually(lambda: other.execute(waiting).rowcount > 0, within=4 * BEAT_SECONDS + LATE)
        for _twice in range(2):
            one.scheduler.terminate()
            time.sleep(0.3)
        if lets_go:
            other.rollback()
        assert one.scheduler.wait(ENDS_WITHIN_SECONDS + LATE) == code
