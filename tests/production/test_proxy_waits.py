"""Who comes while the site's container is replaced: nobody listens, or an answer breaks off."""

import threading
import time
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from http.server import BaseHTTPRequestHandler, HTTPServer
from urllib.error import HTTPError

import pytest

from tests.production.proxy import Proxy, proxy
from tests.services import free_port

AWAY_SECONDS = 1.2


class Site:
    """It answers with what it is sent; the first ``breaks_off`` requests it hears and drops."""

    def __init__(self, breaks_off: int = 0) -> None:
        self.port, self.heard = free_port(), 0
        self._breaks_off = breaks_off

    @contextmanager
    def back_after(self, seconds: float) -> Iterator[None]:
        site = self

        class Answer(BaseHTTPRequestHandler):
            def do_POST(self) -> None:
                body = self.rfile.read(int(self.headers.get("Content-Length", 0)))
                site.heard += 1
                if site.heard <= site._breaks_off:
                    return
                self.send_response(200)
                self.send_header("Content-Length", str(len(body)))
                self.end_headers()
                self.wfile.write(body)

            do_GET = do_POST  # noqa: N815

            def log_message(self, *_: object) -> None:
                pass

        def serve() -> None:
            time.sleep(seconds)
            with HTTPServer(("127.0.0.1", self.port), Answer) as server:
                server.timeout = 0.05
                while not over.is_set():
                    server.handle_request()

        over = threading.Event()
        thread = threading.Thread(target=serve)
        thread.start()
        try:
            yield
        finally:
            over.set()
            thread.join()


def ask(proxy: Proxy, body: bytes | None = None) -> bytes:
    question = urllib.request.Request(f"{proxy.url}/", body)
    with urllib.request.urlopen(question, timeout=20, context=proxy.trusting()) as answer:
        assert answer.status == 200
        return bytes(answer.read())


@pytest.mark.parametrize("body", [None, b"n=1" * 20_000])
def test_who_was_not_heard_waits_and_is_answered(body: bytes | None) -> None:
    site = Site()
    with proxy(site.port) as in_front, site.back_after(AWAY_SECONDS):
        assert ask(in_front, body) == body or not body
    assert site.heard == 1


def test_who_only_reads_is_asked_for_again() -> None:
    site = Site(breaks_off=2)
    with proxy(site.port) as in_front, site.back_after(0):
        ask(in_front)
    assert site.heard == 3


def test_what_was_heard_is_not_said_twice() -> None:
    site = Site(breaks_off=1)
    with (
        proxy(site.port) as in_front,
        site.back_after(0),
        pytest.raises(HTTPError, match="502"),
    ):
        ask(in_front, b"n=1")
    assert site.heard == 1


def test_a_site_that_stays_away_is_told_of() -> None:
    with proxy(free_port()) as in_front, pytest.raises(HTTPError, match="502"):
        ask(in_front)
