"""A worker that lives and does nothing is found, told of and started anew."""

import os
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest
from django.db import connection
from django.test import Client
from django.utils import timezone
from pytest_django import Settings

from accounts.actions import queue_mail, take_post
from drives.actions.paper.sheets import finish_sheet, take_sheet
from drives.models import Sheet
from shared.serving import processes
from shared.workers.standstill import WAITED, standing_still
from tests.cast import Cast
from tests.desk import Desk
from tests.shared.site import descendants, environment, eventually, everybody
from tests.sheets.conftest import ask

LONG_AGO = timedelta(minutes=5)


def test_sheets_that_nobody_makes_stand_still(desk: Desk, cast: Cast) -> None:
    now = timezone.now()
    sheet = ask(desk.blanket, cast, now)
    assert standing_still() == []
    Sheet.objects.update(requested_at=now - WAITED - timedelta(seconds=1))
    assert standing_still() == ["soon"]
    Sheet.objects.update(in_batch=True)
    assert standing_still() == ["batches"]
    taken = take_sheet(sheet_id=sheet.pk, now=now)
    assert taken
    ask(desk.blanket, cast, now - LONG_AGO, paper="letter")
    Sheet.objects.update(in_batch=True)
    assert standing_still() == []
    finish_sheet(taken=taken, file="x", now=now)
    assert standing_still() == []
    Sheet.objects.filter(pk=sheet.pk).update(finished_at=now - WAITED - timedelta(seconds=1))
    assert standing_still() == ["batches"]


def test_e_mails_that_nobody_sends_stand_still(db: None, client: Client) -> None:
    now = timezone.now()
    first = queue_mail(to="a@example.org", heading="A", body="A", now=now)
    assert standing_still() == []
    queue_mail(to="b@example.org", heading="B", body="B", now=now - LONG_AGO)
    assert standing_still() == ["letters"]
    answer = client.get("/health/ready/")
    assert answer.status_code == 503
    assert answer.json()["work"] == "Work waits in the queue “letters”, and nobody does it."
    assert take_post(row=first, now=now)
    assert standing_still() == []


IN_SPRING = timedelta(days=120)


def test_sheets_of_a_clock_that_was_put_back_stand_still_like_others(
    desk: Desk, cast: Cast
) -> None:
    now = timezone.now()
    sheet = ask(desk.blanket, cast, now + IN_SPRING)
    assert standing_still() == ["soon"]
    assert take_sheet(sheet_id=sheet.pk, now=now + IN_SPRING)  # and its worker has died
    ask(desk.blanket, cast, now - LONG_AGO, paper="letter")
    assert standing_still() == ["soon"]


def test_a_sheet_that_was_finished_in_a_time_to_come_hides_no_standstill(
    desk: Desk, cast: Cast
) -> None:
    now = timezone.now()
    sheet = ask(desk.blanket, cast, now - 2 * LONG_AGO)
    taken = take_sheet(sheet_id=sheet.pk, now=now)
    assert taken
    finish_sheet(taken=taken, file="x", now=now + IN_SPRING)
    ask(desk.blanket, cast, now - LONG_AGO, paper="letter")
    assert standing_still() == ["soon"]


def test_e_mails_of_a_clock_that_was_put_back_stand_still_like_others(db: None) -> None:
    now = timezone.now()
    mail = queue_mail(to="a@example.org", heading="A", body="A", now=now + IN_SPRING)
    assert standing_still() == ["letters"]
    assert take_post(row=mail, now=now + IN_SPRING)  # and its worker has died
    assert standing_still() == ["letters"]


def test_a_clock_that_nobody_hears_stands_still(
    db: None, settings: Settings, tmp_path: Path
) -> None:
    settings.CELERY_BROKER_URL = "filesystem://localhost"
    settings.CELERY_BROKER_TRANSPORT_OPTIONS = {"data_folder_in": str(tmp_path)}
    message = tmp_path / "1_x.clock.msg"
    message.touch()
    assert standing_still() == []
    then = time.time() - LONG_AGO.total_seconds()
    os.utime(message, (then, then))
    assert standing_still() == ["clock"]


@pytest.fixture
def waited() -> str:
    """In seconds, for how long work has to wait until it counts as standing still."""
    return "2"


@pytest.fixture
def impatient(
    tmp_path: Path, transactional_db: None, waited: str
) -> Iterator["subprocess.Popen[bytes]"]:
    """An embedded site whose supervisor waits for shorter than usual."""
    if connection.vendor != "sqlite":
        pytest.skip("the embedded site")
    with closing(sqlite3.connect(tmp_path / "mitrewise.sqlite3")) as copy:
        connection.ensure_connection()
        connection.connection.backup(copy)
    script = (
        "import django; django.setup(); from datetime import timedelta;"
        "from django.core.management import call_command;"
        "from shared.serving import watch; from shared.workers import standstill;"
        f"standstill.WAITED, watch.FIRST_PATIENCE = timedelta(seconds={waited}), 2.0;"
        "call_command('serve', only=['worker', 'beat'])"
    )
    said = (tmp_path / "said.txt").open("w")
    site = subprocess.Popen(
        [sys.executable, "-c", script],
        cwd=processes.BASE_DIR,
        env=environment(tmp_path),
        stdout=said,
        stderr=said,
        start_new_session=True,
    )
    try:
        yield site
    finally:
        ours = descendants(site.pid)
        site.terminate()
        site.wait(30)
        said.close()
        assert not ours & everybody().keys()


def test_a_worker_whose_pool_hangs_is_started_anew(
    impatient: "subprocess.Popen[bytes]", tmp_path: Path
) -> None:
    """As one does for ever whose idle process was killed with a lock of the pool in its hands."""
    eventually(lambda: len(descendants(impatient.pid)) >= 7)
    for pid in pooled(impatient.pid):
        os.kill(pid, signal.SIGSTOP)
    env = environment(tmp_path)
    run = [sys.executable, "-m", "tests.sheets.site"]
    subprocess.run([*run, "ask", "small"], env=env, check=True)

    eventually(lambda: "nobody does it. It was started anew." in said(tmp_path), within=60)
    eventually(lambda: len(pooled(impatient.pid)) == 2)
    subprocess.run([*run, "sweep"], env=env, check=True)

    def done() -> bool:
        with closing(sqlite3.connect(tmp_path / "mitrewise.sqlite3", timeout=20)) as database:
            return database.execute("SELECT status FROM drives_sheet").fetchall() == [("done",)]

    eventually(done, within=240)  # one that is slow to begin is started anew, ever more patiently


@pytest.mark.parametrize("waited", ["600"])
def test_a_worker_that_hangs_is_found_though_no_row_waits(
    impatient: "subprocess.Popen[bytes]", tmp_path: Path
) -> None:
    """As when a worker on another host does what this one should."""
    eventually(lambda: len(pooled(impatient.pid)) == 2)
    for pid in (*descendants(worker(impatient.pid, "batches")), worker(impatient.pid, "letters")):
        os.kill(pid, signal.SIGSTOP)
    env = environment(tmp_path)
    subprocess.run([sys.executable, "-m", "tests.sheets.site", "ask", "small"], env=env, check=True)

    for queue in ("batches", "letters"):
        sentence = f"The worker of the queue “{queue}” is alive and does nothing. It was started"
        # Perhaps more than once: on a busy machine a new one may outlast our short patience too.
        eventually(lambda sentence=sentence: sentence in said(tmp_path), within=100)  # type: ignore[misc]


def said(data: Path) -> str:
    return (data / "said.txt").read_text()


def worker(supervisor: int, queue: str) -> int:
    """The process that the supervisor has started for this queue."""
    asked = ["ps", "-ww", "-o", "pid=,args=", "--ppid", str(supervisor)]
    told = subprocess.run(asked, capture_output=True, text=True, check=True).stdout
    (found,) = [line for line in told.splitlines() if f"--hostname {queue}@" in line]
    return int(found.split()[0])


def pooled(supervisor: int) -> list[int]:
    """The processes in the pools of workers."""
    parents = everybody()
    direct = {pid for pid, parent in parents.items() if parent == supervisor}
    return [pid for pid, parent in parents.items() if parent in direct]
