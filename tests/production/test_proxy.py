"""The proxy's configuration as it is shipped, in front of a real web server."""

import json
import urllib.request
from collections.abc import Iterator
from contextlib import ExitStack
from urllib.error import HTTPError

import pytest

from tests.production.proxy import Proxy, proxy
from tests.shared.site import Site

SLOW = (
    b"POST /account/login/ HTTP/1.1\r\nHost: localhost\r\nContent-Length: 1000\r\n"
    b"Content-Type: application/x-www-form-urlencoded\r\n\r\nlogin="
)
PRODUCTION = {
    "MITREWISE_PRODUCTION": "1",
    "MITREWISE_SECRET_KEY": "a-sample-of-a-key-that-is-long-and-varied-enough-0123456789",
    "MITREWISE_HOSTS": "localhost",
    "MITREWISE_SMTP_URL": "smtp://localhost:9",
    "MITREWISE_EMAIL_FROM": "circle@blankets.example",
}


@pytest.fixture(scope="module")
def in_front(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Proxy]:
    data = tmp_path_factory.mktemp("site")
    site = Site(data, "--only", "web", **PRODUCTION)
    try:
        site.wait_until_announced(2)
        with proxy(site.port) as running:
            yield running
    finally:
        site.process.terminate()
        site.process.wait()


def get(proxy: Proxy, path: str, **headers: str) -> bytes:
    question = urllib.request.Request(proxy.url + path, headers=headers)
    with urllib.request.urlopen(question, timeout=20, context=proxy.trusting()) as answer:
        return bytes(answer.read())


def test_what_a_client_says_of_itself_is_not_passed_on(in_front: Proxy) -> None:
    lies = {"X-Forwarded-For": "203.0.113.9", "X-Forwarded-Proto": "http"}

    assert json.loads(get(in_front, "/health/seen/", **lies)) == {
        "https": True,
        "client": "127.0.0.1",
    }


def test_slow_ones_hold_nobody_up(in_front: Proxy) -> None:
    """Four were enough to silence the site, when they reached it."""
    with ExitStack() as held:
        for _ in range(40):
            held.enter_context(in_front.connect()).sendall(SLOW)

        for _ in range(10):
            assert json.loads(get(in_front, "/health/")) == {"status": "alive"}


def test_a_body_that_is_too_large_is_refused_before_it_is_sent(in_front: Proxy) -> None:
    with in_front.connect() as connection:
        connection.sendall(SLOW.replace(b"1000", b"60000000"))
        assert connection.recv(1000).startswith(b"HTTP/1.1 413 ")


def test_whether_the_site_is_ready_is_not_for_strangers(in_front: Proxy) -> None:
    with pytest.raises(HTTPError, match="404"):
        get(in_front, "/health/ready/")
