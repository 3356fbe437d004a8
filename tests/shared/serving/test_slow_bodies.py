"""Who is slow, with no proxy in between, holds nobody up: sending, asking, reading."""

import socket
import sys
import time
from collections.abc import Iterator
from contextlib import ExitStack

import pytest

from shared.serving.web import AT_ONCE, UNREAD_MILLISECONDS, WebServer
from tests.shared.site import Site

HEAD = (
    b"POST /account/login/ HTTP/1.1\r\nHost: localhost\r\nContent-Length: 1000\r\n"
    b"Content-Type: application/x-www-form-urlencoded\r\n\r\nlogin="
)


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    site = Site(tmp_path_factory.mktemp("site"), "--only", "web")
    try:
        site.wait_until_announced(2)
        yield site
    finally:
        site.process.terminate()
        site.process.wait()


def begin(site: Site) -> socket.socket:
    """A connection that has sent a part of what it announces."""
    connection = socket.create_connection(("127.0.0.1", site.port), timeout=30)
    connection.sendall(HEAD)
    return connection


def test_others_are_answered_all_the_while(site: Site) -> None:
    with ExitStack() as held:
        for _ in range(200):
            held.enter_context(begin(site))
        slowest = 0.0
        for _ in range(10):
            begun = time.monotonic()
            assert site.get("/health/") == 200
            slowest = max(slowest, time.monotonic() - begun)

        assert (
            slowest < 5
        )  # far under one by itself; a thread that waits for a body is held for ten


def test_a_body_has_a_time_in_which_it_must_have_come(site: Site) -> None:
    with begin(site) as slow:
        begun = time.monotonic()
        slow.sendall(b"o")
        assert slow.recv(100).startswith(b"HTTP/1.1 408 ")
        assert slow.recv(10_000)
        assert not slow.recv(1), "the connection is closed"
        assert 8 < time.monotonic() - begun < 25


def test_a_body_that_comes_in_parts_is_read(site: Site) -> None:
    with begin(site) as one:
        for _ in range(4):
            time.sleep(0.2)
            one.sendall(b"x" * 248)
        one.sendall(b"xx")
        assert one.recv(100).startswith(b"HTTP/1.1 403 ")  # it brings no token against forgery


def test_who_connects_and_says_nothing_holds_nobody_up_for_long(site: Site) -> None:
    with ExitStack() as held:
        for _ in range(AT_ONCE + 20):  # more than one process takes
            address = ("127.0.0.1", site.port)
            held.enter_context(socket.create_connection(address, timeout=30))
        assert site.get("/health/") == 200


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux ends such connections so soon")
def test_who_takes_nothing_of_an_answer_is_let_go() -> None:
    with socket.create_server(("127.0.0.1", 0)) as listening:
        WebServer(listening, 1)
        with (
            socket.create_connection(listening.getsockname()),
            listening.accept()[0] as accepted,
        ):
            patience = accepted.getsockopt(socket.IPPROTO_TCP, socket.TCP_USER_TIMEOUT)
    assert patience == UNREAD_MILLISECONDS
