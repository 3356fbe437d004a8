"""The memory of a real worker over 500 sheets, against what it needed for the first fifty."""

import os
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from shared.serving import processes

from .figures import Figure

SHEETS = 500
FIRST = 50
COUNT = "SELECT count(*) FROM drives_sheet WHERE status = 'done'"
PATIENCE_SECONDS = 900


def figures() -> Iterator[Figure]:
    with tempfile.TemporaryDirectory(prefix="mitrewise-bench-") as data:
        ours = {name: value for name, value in os.environ.items() if "MITREWISE_" not in name}
        env = ours | {"MITREWISE_DATA": data, "DJANGO_SETTINGS_MODULE": "tests.bench.settings"}
        subprocess.run(
            [sys.executable, "-m", "tests.bench.seed", "batch"],
            env=env, cwd=processes.BASE_DIR, check=True, stdout=subprocess.DEVNULL,
        )  # fmt: skip
        worker = processes.start(
            [
                *(sys.executable, "-m", "celery", "--quiet", "--app", "shared", "worker"),
                *("--queues", "batches", "--concurrency", "1", "--loglevel", "ERROR"),
                *("--without-gossip", "--without-mingle"),
            ],
            env=env,
        )
        try:
            begun = time.monotonic()
            first, most = _peaks(Path(data) / "mitrewise.sqlite3", worker.pid)
        finally:
            processes.stop([worker])
    minutes = (time.monotonic() - begun) / 60
    yield Figure(
        f"worker's memory, {SHEETS} sheets in {minutes:.1f} min / first {FIRST}",
        f"{most / 1024:.0f} MB", f"{first / 1024:.0f} MB", most / first, 1.1, at_least=False,
    )  # fmt: skip


def _peaks(database: Path, worker: int) -> tuple[int, int]:
    """The most kB that a process of the worker had while it made the first ones, and after."""
    first = most = 0
    deadline = time.monotonic() + PATIENCE_SECONDS
    with closing(sqlite3.connect(database, timeout=20)) as connection:
        while (done := connection.execute(COUNT).fetchone()[0]) < SHEETS:
            if time.monotonic() > deadline:
                raise TimeoutError(f"only {done} of {SHEETS} sheets are made")
            kilobytes = _resident(worker)
            if done <= FIRST:
                first = max(first, kilobytes)
            else:
                most = max(most, kilobytes)
            time.sleep(0.2)
    return first, most


def _resident(worker: int) -> int:
    """kB of the largest process that the worker has begun."""
    listed = subprocess.run(
        ["ps", "-A", "-o", "ppid=,rss="], check=True, stdout=subprocess.PIPE, text=True
    ).stdout
    rows = [line.split() for line in listed.splitlines()]
    return max((int(size) for parent, size in rows if int(parent) == worker), default=0)
