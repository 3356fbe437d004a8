"""The supervisor, with the real web server, worker and scheduler."""

import os
import signal
import socket
import subprocess
import sys
import time
import urllib.request
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from shared import processes
from tests.services import free_port

STOPS_WITHIN_SECONDS = 20.0
SERVICES = 4  # web server, a worker for each of the two queues, scheduler …
ALL = 7  # … and what the first three start, the workers last


class Site:
    """A site that is served from ``data``, and every process that belongs to it."""

    def __init__(self, data: Path) -> None:
        self.port = free_port()
        self._said = data / "said.txt"
        with self._said.open("w") as said:
            self.process = subprocess.Popen(
                [sys.executable, "manage.py", "serve", "--port", str(self.port)],
                cwd=processes.BASE_DIR,
                env=environment(data),
                stdout=said,
                stderr=said,
                start_new_session=True,
            )
        self.seen: set[int] = set()

    @property
    def said(self) -> str:
        return self._said.read_text()

    def wait_until_announced(self) -> None:
        eventually(lambda: "Mitrewise is at" in self.said)
        eventually(lambda: len(descendants(self.process.pid)) >= ALL)
        self.seen |= descendants(self.process.pid)

    def get(self, path: str) -> int:
        with urllib.request.urlopen(f"http://127.0.0.1:{self.port}{path}", timeout=5) as answer:
            return int(answer.status)

    def left_alive(self) -> set[int]:
        return self.seen & everybody().keys()


def environment(data: Path) -> dict[str, str]:
    ours = {name: value for name, value in os.environ.items() if not name.startswith("MITREWISE_")}
    return ours | {"DJANGO_SETTINGS_MODULE": "shared.settings", "MITREWISE_DATA": str(data)}


def eventually(holds: Callable[[], bool], within: float = 30.0) -> None:
    deadline = time.monotonic() + within
    while not holds():
        assert time.monotonic() < deadline, "waited in vain"
        time.sleep(0.05)


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


@pytest.fixture
def site(tmp_path: Path) -> Iterator[Site]:
    (tmp_path / "logins.txt").write_text("olive@example.org  a made-up password")
    site = Site(tmp_path)
    try:
        site.wait_until_announced()
        yield site
    finally:
        if site.process.poll() is None:
            site.process.terminate()
            assert site.process.wait(STOPS_WITHIN_SECONDS) == 0


def test_it_serves_and_then_stops_with_nothing_left_alive(site: Site) -> None:
    assert site.get("/health/ready/") == 200
    assert f"http://127.0.0.1:{site.port}/" in site.said
    assert "olive@example.org" in site.said

    site.process.send_signal(signal.SIGINT)

    assert site.process.wait(STOPS_WITHIN_SECONDS) == 0
    assert site.left_alive() == set()
    assert site.said.rstrip().endswith("Everything has stopped.")


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux tells children of such a death")
def test_nothing_outlives_a_supervisor_that_is_killed(site: Site) -> None:
    site.process.kill()
    site.process.wait()

    eventually(lambda: not site.left_alive(), within=STOPS_WITHIN_SECONDS)


def test_what_dies_is_started_again(site: Site) -> None:
    everyone = descendants(site.process.pid)
    direct = {pid for pid, parent in everybody().items() if parent == site.process.pid}
    assert len(direct) == SERVICES
    for pid in direct:
        os.kill(pid, signal.SIGKILL)

    eventually(lambda: site.said.count("started again") == SERVICES)
    eventually(lambda: len(descendants(site.process.pid)) >= ALL)
    eventually(lambda: answers(site))
    assert not everyone & everybody().keys()


def answers(site: Site) -> bool:
    try:
        return site.get("/health/") == 200
    except OSError:
        return False


def test_a_taken_port_is_named_before_anything_starts(tmp_path: Path) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        ended = subprocess.run(
            [sys.executable, "manage.py", "serve", "--port", str(port), "--demo"],
            cwd=processes.BASE_DIR,
            env=environment(tmp_path),
            capture_output=True,
            text=True,
            timeout=30,
            check=False,
        )

    assert ended.returncode != 0
    assert f"Port {port} is taken" in ended.stderr
    assert ended.stdout == ""
    assert not (tmp_path / "mitrewise.sqlite3").exists()


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
def test_each_signal_ends_all(number: int, tmp_path: Path) -> None:
    """As above, with a service that ends at once: the real worker takes seconds."""
    script = (
        "from shared.supervisor import *;"
        "Supervisor([Service('steady one', ['sleep', '600'])]).run(tick=lambda: None, say=print);"
        "print('Everything has stopped.')"
    )
    supervisor = subprocess.Popen(
        [sys.executable, "-c", script],
        cwd=processes.BASE_DIR,
        env=environment(tmp_path),
        stdout=subprocess.PIPE,
        text=True,
        start_new_session=True,
    )
    eventually(lambda: bool(descendants(supervisor.pid)))
    (steady,) = descendants(supervisor.pid)

    supervisor.send_signal(number)

    said, _ = supervisor.communicate(timeout=STOPS_WITHIN_SECONDS)
    assert said == "Stopping …\nEverything has stopped.\n"
    assert supervisor.returncode == 0
    assert steady not in everybody()


def test_it_gives_up_on_what_cannot_start(tmp_path: Path) -> None:
    """In a process of its own, because a supervisor takes over the signals."""
    script = (
        "import sys; from shared.supervisor import *;"
        "steady = Service('steady one', ['sleep', '600']);"
        "broken = Service('broken one', [sys.executable, '-c', 'raise SystemExit(3)']);"
        "Supervisor([steady, broken]).run(tick=lambda: None, say=print)"
    )
    ended = subprocess.run(
        [sys.executable, "-c", script],
        cwd=processes.BASE_DIR,
        env=environment(tmp_path),
        capture_output=True,
        text=True,
        timeout=30,
        check=False,
    )

    assert "GaveUp: The broken one ended 3 times right after its start." in ended.stderr
    assert ended.stdout.count("The broken one ended by itself and was started again.") == 2
