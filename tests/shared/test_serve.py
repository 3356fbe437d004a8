"""The supervisor, with the real web server, worker and scheduler."""

import os
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import ExitStack
from functools import partial
from pathlib import Path

import pytest

from shared import processes
from tests.shared.site import Site, descendants, environment, eventually, everybody

STOPS_WITHIN_SECONDS = 20.0
SERVICES = 4  # web server, a worker for each of the two queues, scheduler …
ALL = 7  # … and what the first three start, the workers last


@pytest.fixture
def site(tmp_path: Path) -> Iterator[Site]:
    (tmp_path / "logins.txt").write_text("olive@example.org  a made-up password")
    site = Site(tmp_path)
    try:
        site.wait_until_announced(ALL)
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


@pytest.fixture
def only_web(tmp_path: Path) -> Iterator[Site]:
    site = Site(tmp_path, "--only", "web")
    try:
        site.wait_until_announced(2)
        yield site
    finally:
        site.process.terminate()
        assert site.process.wait(STOPS_WITHIN_SECONDS) == 0


def test_a_host_runs_the_parts_that_it_is_told_to(only_web: Site) -> None:
    assert len(descendants(only_web.process.pid)) == 2
    assert only_web.get("/health/") == 200


def test_a_renewal_refuses_no_request(only_web: Site) -> None:
    before = descendants(only_web.process.pid)
    with only_web.asked_all_the_time() as told:
        eventually(lambda: len(told) > 50)
        for served in (2, 3):  # what a renewal has begun can be renewed as well
            only_web.process.send_signal(signal.SIGUSR1)
            eventually(partial(only_web.was_announced, times=served))
        enough = len(told) + 50
        eventually(lambda: len(told) > enough)

    assert set(told) == {"200"}
    assert not before & everybody().keys()


def test_what_waits_at_a_port_is_answered_by_the_next_server(only_web: Site) -> None:
    """Also where the web server dies: the port stays open, and who comes waits."""
    (server,) = (p for p, parent in everybody().items() if parent == only_web.process.pid)
    with only_web.asked_all_the_time() as told:
        eventually(lambda: len(told) > 50)
        os.kill(server, signal.SIGKILL)
        eventually(lambda: "started again" in only_web.said)
        enough = len(told) + 50
        eventually(lambda: len(told) > enough)

    # Only what was being answered at that moment can be lost.
    assert sum(answer != "200" for answer in told) <= 3


def test_a_few_slow_ones_keep_nobody_waiting(only_web: Site) -> None:
    head = (
        b"POST /account/login/ HTTP/1.1\r\nHost: localhost\r\nContent-Length: 1000\r\n"
        b"Content-Type: application/x-www-form-urlencoded\r\n\r\nlogin="
    )
    with ExitStack() as open_for_long:
        for _ in range(8):
            slow = socket.create_connection(("127.0.0.1", only_web.port))
            open_for_long.enter_context(slow)
            slow.sendall(head)

        assert [only_web.get("/health/") for _ in range(20)] == [200] * 20
