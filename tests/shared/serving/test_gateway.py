"""What the gateway lets through to the site, and what of the site’s answers."""

import socket
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from django.conf import settings

from shared.serving.gateway import Gateway
from tests.shared.site import Site

POST = b"POST /account/login/ HTTP/1.1\r\nHost: localhost\r\n"
FORM = b"Content-Type: application/x-www-form-urlencoded\r\n"
CHUNKED = POST + FORM + b"Transfer-Encoding: chunked\r\n\r\n"
GET = b"GET /health/ HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n"
UPGRADE = (
    b"Connection: Upgrade\r\nUpgrade: websocket\r\nSec-WebSocket-Version: 13\r\n"
    b"Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\n\r\n"
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


def statuses(site: Site, sent: bytes, *, over: bool = False) -> list[int]:
    """Of all answers to what is ``sent`` on one connection, until the site closes it.

    ``over``: nothing follows, and the site is told so.
    """
    with socket.create_connection(("127.0.0.1", site.port), timeout=30) as connection:
        connection.sendall(sent)
        if over:
            connection.shutdown(socket.SHUT_WR)
        told = b""
        while part := connection.recv(65536):
            told += part
    lines = [line for line in told.split(b"\n") if line.startswith(b"HTTP/1.1 ")]
    return [int(line.split()[1]) for line in lines]


@pytest.mark.parametrize(
    "body",
    [
        b"5\r\nhello\r\n0\r\n\r\n",
        b"0x5\r\nhello\r\n0\r\n\r\n",
        b"-5\r\nhello\r\n0\r\n\r\n",
        b"5\r\nhel",
    ],
)
def test_a_body_that_does_not_announce_its_length_is_not_taken(site: Site, body: bytes) -> None:
    """Where it breaks off, its first half would pass for all of it."""
    assert statuses(site, CHUNKED + body + GET) == [411]


@pytest.mark.parametrize(
    "announced", [b"5\r\nContent-Length: 6", b"5, 5", b"+5", b"0x5", b"9" * 30]
)
def test_a_length_that_is_none_is_refused(site: Site, announced: bytes) -> None:
    sent = POST + FORM + b"Content-Length: " + announced + b"\r\n\r\nhello" + GET
    assert statuses(site, sent) == [400]


def test_two_ways_to_end_a_body_end_the_connection(site: Site) -> None:
    both = b"Content-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\n"
    assert statuses(site, POST + FORM + both + GET) == [411]


def test_a_body_that_breaks_off_is_not_taken(site: Site) -> None:
    sent = POST + FORM + b"Content-Length: 50\r\n\r\nhello"
    assert set(statuses(site, sent, over=True)) <= {400}


def test_what_follows_a_body_is_the_next_request(site: Site) -> None:
    sent = POST + FORM + b"Content-Length: 5\r\n\r\nhello" + GET
    assert statuses(site, sent) == [403, 200]  # the first brings no token against forgery


def test_what_is_too_large_is_refused_with_all_that_follows(site: Site) -> None:
    length = str(settings.DATA_UPLOAD_MAX_MEMORY_SIZE + 1).encode()
    assert statuses(site, POST + FORM + b"Content-Length: " + length + b"\r\n\r\n" + GET) == [413]


def test_head_has_no_body_that_could_pass_for_an_answer(site: Site) -> None:
    assert statuses(site, b"HEAD /health/ HTTP/1.1\r\nHost: localhost\r\n\r\n" + GET) == [200, 200]


@pytest.mark.parametrize(
    "sent",
    [
        b"GET /health/ HTTP/1.1\r\nHost: localhost\r\n" + UPGRADE + GET,
        b"PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n",
    ],
)
def test_nothing_but_http_1_is_spoken(site: Site, sent: bytes) -> None:
    assert set(statuses(site, sent)) <= {200, 400}
    assert "Traceback" not in site.said


class Parts(list[Any]):
    """An answer’s, which notes that it was closed."""

    closed = False

    def __iter__(self) -> Iterator[bytes]:
        for part in super().__iter__():
            if isinstance(part, Exception):
                raise part
            yield part

    def close(self) -> None:
        self.closed = True


def answering(parts: Parts) -> Gateway:
    def application(_environment: object, start_response: Callable[..., object]) -> Parts:
        start_response("200 OK", [])
        return parts

    return Gateway(application)


def test_an_answer_in_parts_is_given_whole() -> None:
    parts = Parts([b"a", b"", b"b"])
    assert answering(parts)._call({}) == (200, [], b"ab")
    assert parts.closed


def test_an_answer_that_breaks_off_is_none() -> None:
    parts = Parts([b"half", OSError("the disk")])
    with pytest.raises(OSError, match="the disk"):
        answering(parts)._call({})
    assert parts.closed
