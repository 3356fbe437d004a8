"""The supervisor, with the real web server, worker and scheduler."""

import os
import re
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Collection, Iterator
from contextlib import ExitStack, contextmanager, suppress
from functools import partial
from pathlib import Path

import pytest

from shared.serving import processes
from tests.shared.site import Site, descendants, environment, eventually, everybody

STOPS_WITHIN_SECONDS = 20.0
SERVICES = 6  # web server, a worker for each of the four queues, scheduler …
ALL = 9  # … and what the web server and the workers of documents start, those last


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
    assert site.get("/health/") == 200
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


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux tells children of such a death")
def test_nor_does_one_whose_parent_died_while_it_began() -> None:
    nobody = os.getpid() + 1
    child = subprocess.Popen(["sleep", "60"], preexec_fn=processes.ending_with(nobody))
    assert child.wait(STOPS_WITHIN_SECONDS) == -signal.SIGTERM


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


@contextmanager
def supervising(
    services: str, data: Path, *, ignoring: Collection[signal.Signals] = ()
) -> Iterator["subprocess.Popen[str]"]:
    """A supervisor of these services in a process of its own, because it takes over the signals.

    Whatever this very process was started to ignore, it ignores only the signals named.
    """

    def begin() -> None:
        for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
            signal.signal(number, signal.SIG_IGN if number in ignoring else signal.SIG_DFL)

    script = (
        "import sys; from shared.serving.supervisor import *;"
        "say = lambda sentence: print(sentence, flush=True);"
        "report = lambda name, trouble: print('noted:', trouble or 'no trouble', flush=True);"
        f"Supervisor([{services}]).run(tick=lambda: None, say=say, report=report);"
        "print('Everything has stopped.')"
    )
    process = subprocess.Popen(
        [sys.executable, "-c", script],
        cwd=processes.BASE_DIR,
        env=environment(data),
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        start_new_session=True,
        preexec_fn=begin,
    )
    try:
        yield process
    finally:
        ours = {process.pid} | descendants(process.pid)
        process.kill()
        process.communicate()
        for pid in ours & everybody().keys():
            with suppress(ProcessLookupError):
                os.kill(pid, signal.SIGKILL)


STEADY = "Service('steady one', ['sleep', '600'])"


@pytest.mark.parametrize("number", [signal.SIGINT, signal.SIGTERM, signal.SIGHUP])
def test_each_signal_ends_all(number: int, tmp_path: Path) -> None:
    """As above, with a service that ends at once: the real worker takes seconds."""
    with supervising(STEADY, tmp_path) as supervisor:
        eventually(lambda: bool(descendants(supervisor.pid)))
        (steady,) = descendants(supervisor.pid)

        supervisor.send_signal(number)

        said, _ = supervisor.communicate(timeout=STOPS_WITHIN_SECONDS)
        assert said.endswith("Stopping …\nEverything has stopped.\n")
        assert supervisor.returncode == 0
        assert steady not in everybody()


def test_under_nohup_a_hang_up_ends_nothing_and_services_hear_all(tmp_path: Path) -> None:
    ignoring = [signal.SIGHUP, signal.SIGINT]
    with supervising(STEADY, tmp_path, ignoring=ignoring) as supervisor:
        eventually(lambda: bool(descendants(supervisor.pid)))
        (steady,) = descendants(supervisor.pid)
        eventually(lambda: ignored(steady) == set())

        supervisor.send_signal(signal.SIGHUP)
        time.sleep(0.3)
        assert supervisor.poll() is None
        supervisor.send_signal(signal.SIGINT)

        supervisor.communicate(timeout=STOPS_WITHIN_SECONDS)
        assert supervisor.returncode == 0


def ignored(pid: int) -> set[int]:
    """Which of the signals that end a process this one ignores."""
    if sys.platform != "linux":
        return set()
    (mask,) = re.findall(r"^SigIgn:\s*(\w+)", Path(f"/proc/{pid}/status").read_text(), re.M)
    ending = {signal.SIGINT, signal.SIGTERM, signal.SIGHUP, signal.SIGQUIT}
    return {int(number) for number in ending if int(mask, 16) >> (number - 1) & 1}


def test_one_that_cannot_start_is_tried_after_growing_pauses_and_ends_no_other(
    tmp_path: Path,
) -> None:
    tries = tmp_path / "tries"
    fails = f"open({str(tries)!r}, 'a').write('x'); print('No luck.'); raise SystemExit(3)"
    services = f"{STEADY}, Service('broken one', [sys.executable, '-c', {fails!r}])"
    with supervising(services, tmp_path) as supervisor:
        eventually(lambda: tries.exists() and len(tries.read_text()) == 3)
        assert len(descendants(supervisor.pid)) >= 1
        supervisor.send_signal(signal.SIGTERM)
        said, _ = supervisor.communicate(timeout=STOPS_WITHIN_SECONDS)

    assert supervisor.returncode == 0
    assert said.count("The broken one ended by itself and was started again.") == 1
    assert said.count("The broken one ends right after its start; what it said stands above") == 1
    assert said.count("No luck.") == 1
    assert said.count("noted: The broken one ends right after its start.") == 1


def test_one_that_starts_at_last_is_told_with_what_it_said(tmp_path: Path) -> None:
    tried = tmp_path / "tried"
    wakes = (
        f"import time; tries = open({str(tried)!r}, 'a+'); tries.write('x'); tries.flush();"
        "print('Hello.', flush=True); time.sleep(600 * (tries.tell() > 2))"
    )
    services = f"Service('late one', [sys.executable, '-c', {wakes!r}])"
    quick = (
        f"setattr(sys.modules['shared.serving.supervisor'], 'HEALTHY_SECONDS', 1.0) or {services}"
    )
    with supervising(quick, tmp_path) as supervisor:
        eventually(lambda: tried.exists() and len(tried.read_text()) == 3)
        time.sleep(3)
        supervisor.send_signal(signal.SIGTERM)
        said, _ = supervisor.communicate(timeout=STOPS_WITHIN_SECONDS)

    assert said.count("Hello.") == 2
    assert "The late one runs again." in said
    assert said.index("noted: The late one ends") < said.index("noted: no trouble", 20)


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


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux shows others' variables")
def test_what_passes_through_files_stays_in_the_data_folder(only_web: Site, tmp_path: Path) -> None:
    for process in descendants(only_web.process.pid):
        variables = Path(f"/proc/{process}/environ").read_text().split("\0")
        assert f"TMPDIR={tmp_path / 'temporary'}" in variables


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux tells children of such a death")
def test_no_process_that_answers_outlives_the_web_server(only_web: Site) -> None:
    supervisor = only_web.process
    (server,) = (pid for pid, parent in everybody().items() if parent == supervisor.pid)
    answering = descendants(server)
    assert answering
    supervisor.send_signal(signal.SIGSTOP)  # who would end them too
    try:
        os.kill(server, signal.SIGKILL)
        eventually(lambda: not answering & everybody().keys())
    finally:
        supervisor.send_signal(signal.SIGCONT)


TOLD_WHILE_IT_HEARS = """
import os, signal, socket, sys
from granian._signals import set_main_signals
from shared.serving.web import WebServer

server = WebServer(socket.create_server(("127.0.0.1", 0)), 1)
set_main_signals(server.signal_handler_interrupt)
hears = False

def at_each_line(*_):
    global hears
    if not hears:
        hears = True
        signal.raise_signal(signal.SIGTERM)
        hears = False
    return at_each_line

sys.settrace(at_each_line)
server.signal_handler_interrupt()
server.main_loop_interrupt.clear()
server.main_loop_interrupt.wait()
os._exit(0)
"""


def test_a_web_server_that_is_told_to_end_while_it_hears_that_ends() -> None:
    """Linux tells it again for each thread of a supervisor that is killed."""
    told = [sys.executable, "-c", TOLD_WHILE_IT_HEARS]
    subprocess.run(told, cwd=processes.BASE_DIR, check=True, timeout=STOPS_WITHIN_SECONDS)


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


def test_who_is_being_answered_is_not_cut_off(only_web: Site) -> None:
    """Half of what they send has come when the site is told to renew itself."""
    with socket.create_connection(("127.0.0.1", only_web.port), timeout=30) as asking:
        asking.sendall(
            b"POST /api/v1/plan/ HTTP/1.1\r\nHost: localhost\r\nContent-Length: 43\r\n"
            b"Content-Type: application/json\r\n\r\n"
        )
        time.sleep(0.5)
        only_web.process.send_signal(signal.SIGUSR1)
        time.sleep(0.5)
        asking.sendall(b'{"columns": 2, "rows": 2, "stitches":   20}')

        assert asking.recv(100).startswith(b"HTTP/1.1 200 ")
    eventually(partial(only_web.was_announced, times=2))


def test_an_upgrade_refuses_no_request(only_web: Site, tmp_path: Path) -> None:
    before = descendants(only_web.process.pid)
    with only_web.asked_all_the_time() as told:
        eventually(lambda: len(told) > 50)
        upgraded = subprocess.run(
            [sys.executable, "manage.py", "upgrade"],
            cwd=processes.BASE_DIR,
            env=environment(tmp_path),
            capture_output=True,
            text=True,
            check=False,
        )
        enough = len(told) + 50
        eventually(lambda: len(told) > enough)

    assert upgraded.stderr == ""
    assert upgraded.stdout.endswith("The site runs anew.\n")
    assert set(told) == {"200"}
    assert not before & everybody().keys()
    assert only_web.get("/health/ready/") == 200


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
