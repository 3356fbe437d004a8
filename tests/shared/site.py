"""A site that tests serve: every process of it, and whoever asks it all the time."""

import os
import subprocess
import sys
import threading
import time
import urllib.request
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from shared.serving import processes
from tests.services import free_port


class Site:
    """A site that is served from ``data``, and every process that belongs to it.

    ``more`` is for its environment.
    """

    def __init__(self, data: Path, *arguments: str, **variables: str) -> None:
        self.port = free_port()
        self._said = data / "said.txt"
        with self._said.open("w") as said:
            self.process = subprocess.Popen(
                [sys.executable, "manage.py", "serve", "--port", str(self.port), *arguments],
                cwd=processes.BASE_DIR,
                env=environment(data) | variables,
                stdout=said,
                stderr=said,
                start_new_session=True,
            )
        self.seen: set[int] = set()

    @property
    def said(self) -> str:
        return self._said.read_text()

    def wait_until_announced(self, processes: int) -> None:
        eventually(self.was_announced)
        eventually(lambda: len(descendants(self.process.pid)) >= processes)
        self.seen |= descendants(self.process.pid)

    def was_announced(self, times: int = 1) -> bool:
        return self.said.count("Mitrewise is at") == times

    def get(self, path: str) -> int:
        with urllib.request.urlopen(f"http://127.0.0.1:{self.port}{path}", timeout=30) as answer:
            return int(answer.status)

    def left_alive(self) -> set[int]:
        return self.seen & everybody().keys()

    @contextmanager
    def asked_all_the_time(self) -> Iterator[list[str]]:
        """Three who ask one thing after the other. The list fills with what each was told."""
        told: list[str] = []
        over = threading.Event()

        def ask() -> None:
            while not over.is_set():
                try:
                    told.append(str(self.get("/health/")))
                except OSError as problem:
                    told.append(repr(problem))
                time.sleep(0.01)

        asking = [threading.Thread(target=ask) for _ in range(3)]
        for thread in asking:
            thread.start()
        try:
            yield told
        finally:
            over.set()
            for thread in asking:
                thread.join()


def environment(data: Path) -> dict[str, str]:
    ours = {name: value for name, value in os.environ.items() if not name.startswith("MITREWISE_")}
    return ours | {"DJANGO_SETTINGS_MODULE": "shared.settings", "MITREWISE_DATA": str(data)}


def migrated(env: dict[str, str]) -> None:
    """The database of the site with this environment has its tables."""
    command = [sys.executable, "manage.py", "migrate", "--verbosity", "0"]
    subprocess.run(command, cwd=processes.BASE_DIR, env=env, check=True)


def eventually(holds: Callable[[], bool], within: float = 30.0, pause: float = 0.05) -> None:
    """In seconds for how long to wait, and between looks."""
    deadline = time.monotonic() + within
    while not holds():
        assert time.monotonic() < deadline, "waited in vain"
        time.sleep(pause)


def everybody() -> dict[int, int]:
    """The parent of every process that runs; the dead that wait to be noticed do not."""
    listing = subprocess.run(
        ["ps", "-axo", "pid=,ppid=,stat="], capture_output=True, text=True, check=True
    ).stdout
    rows = [line.split() for line in listing.splitlines()]
    return {int(pid): int(parent) for pid, parent, state in rows if not state.startswith("Z")}


def descendants(pid: int) -> set[int]:
    parents = everybody()
    found: set[int] = set()
    while new := {child for child, parent in parents.items() if parent in {pid} | found} - found:
        found |= new
    return found
