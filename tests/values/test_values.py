"""No value in any address, field or body makes the site fail: it is refused, or taken.

Generated from the list of addresses and from the forms that the pages show. Each field gets each
value; ``MITREWISE_TEST_VALUES=all`` tries all of them, and else each field gets some, others for
each field. What a request does is undone.
"""

import itertools
import json
import os
import zlib
from collections.abc import Callable, Iterator
from typing import Any
from urllib.parse import quote

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import transaction
from django.test import Client, override_settings
from django.urls import reverse
from pytest_django import DjangoDbBlocker

from accounts.models import User
from tests.conftest import forget
from tests.matrix.world import World, make_world
from tests.test_access_matrix import LINES, URLS, address, just_asked

from .forms import Sent, sent_from

pytestmark = pytest.mark.django_db

VALUES = [
    "",
    "9" * 30,
    "-" + "9" * 19,
    "9" * 5000,
    "0",
    "-1",
    "1e999",
    "nan",
    "0.00000000000000000000001",
    "²",
    "٣",
    "a\x00b",
    "\x1b[31m\x07\r\nX: y",
    "#aa0000\n",
    "\ud83e\uddf6".encode("utf-16", "surrogatepass").decode("utf-16"),
    "x" * 20_000,
    "0001-01-01",
    "9999-12-31",
    "2026-02-30",
    "A1",
    "ZZ999",
    "A1–",
    "<b>%s{0}</b>",
    "../../x",
]
FOR_ADDRESSES = ["9" * 30, "9" * 5000, "0", "a\x00b", "a\nb", "²", "٣", "x" * 5000, "A1–", "%"]
FOR_BODIES: list[Any] = [
    None, True, 10**30, -1, 0, 1.5, 1e308, "", "a\x00b", "x" * 20_000, "\ud800", [], {}, [[]],
    [None], {"a": 1}, "0001-01-01", "9999-12-31", "A1", "٣",
]  # fmt: skip
PAGES = sorted(
    {
        (line.url, tuple(line.parts.items()))
        for line in LINES
        if line.method == "GET" and not line.url.startswith("api:")
    }
)
ALL = os.environ.get("MITREWISE_TEST_VALUES") == "all"
SOME = 1
ON_BOTH = pytest.mark.parametrize(
    "database", ["sqlite", pytest.param("postgresql", marks=pytest.mark.postgres)]
)


@pytest.fixture(scope="module")
def world(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[World]:
    """One world for all; what each request does to it is undone at once.

    Its work waits for as long as the tests last, which here is nobody's fault.
    """
    forget()
    at_ease = override_settings(STANDSTILL={})
    with at_ease, django_db_blocker.unblock(), transaction.atomic():
        yield make_world()
        transaction.set_rollback(True)


def some(values: list[Any], *key: str) -> list[Any]:
    """The values for this field; not the same as for the next."""
    if ALL:
        return values
    first = zlib.crc32("/".join(key).encode())
    return [values[(first + step * 7) % len(values)] for step in range(SOME)]


class Browser:
    """The browser of the organiser, or of nobody; each request is undone, and none may fail."""

    def __init__(self, user: User | None) -> None:
        self.failed: list[str] = []
        client = Client()
        if user:
            client.force_login(user)
            just_asked(client)
        self.cookies = client.cookies.output(header="", sep=";")

    def _undone(self, ask: Callable[[Any], Any], told: object) -> Any:
        forget()
        client: Any = Client(raise_request_exception=False)
        client.cookies.load(self.cookies)
        with transaction.atomic():
            answer = ask(client)
            if answer.streaming:
                list(answer)
            transaction.set_rollback(True)
        if answer.status_code >= 500:
            request = answer.wsgi_request
            cause = answer.exc_info[1] if getattr(answer, "exc_info", None) else ""
            self.failed.append(f"{request.method} {request.path[:100]} {told!r}: {cause!r}"[:700])
        return answer

    def ask(self, method: str, path: str, data: str = "", kind: str = "text/plain") -> Any:
        return self._undone(lambda client: client.generic(method, path, data, kind), data[:200])

    def send(self, sent: Sent, fields: dict[str, list[str]]) -> Any:
        files = {name: SimpleUploadedFile("x.csv", b"colour\nred\n") for name in sent.files}
        told = {name: [each[:30] for each in its] for name, its in fields.items()}
        if sent.method == "POST":
            return self._undone(lambda client: client.post(sent.path, {**fields, **files}), told)
        return self._undone(lambda client: client.get(sent.path, fields), told)


def _browser(user: User | None) -> Iterator[Browser]:
    with transaction.atomic():
        browser = Browser(user)
        yield browser
        transaction.set_rollback(True)
    assert browser.failed == []


@pytest.fixture
def browser(world: World) -> Iterator[Browser]:
    yield from _browser(world.user("organiser"))


@pytest.fixture
def nobody(world: World) -> Iterator[Browser]:
    yield from _browser(None)


@ON_BOTH
@pytest.mark.parametrize("url", sorted(url for url, parts in URLS.items() if parts))
def test_any_address(world: World, browser: Browser, url: str, database: str) -> None:
    for name in set(URLS[url]):
        for value in some(FOR_ADDRESSES, url, name):
            parts = {part: world.part(part) for part in URLS[url]}
            marked = {**parts, name: "7777777"}
            try:
                path = reverse(url, kwargs=marked)
            except Exception:
                continue
            path = path.replace("7777777", quote(value, safe=""))
            browser.ask("GET", path)
            browser.ask("POST", path)


@ON_BOTH
@pytest.mark.parametrize(("url", "parts"), PAGES)
def test_any_value_in_any_field(
    world: World,
    browser: Browser,
    nobody: Browser,
    url: str,
    parts: tuple[tuple[str, str], ...],
    database: str,
) -> None:
    """Where the organiser is sent elsewhere, as from signing in, nobody is tried instead."""
    path = address(world, url, dict(parts))
    for visitor in (browser, nobody):
        page = visitor.ask("GET", path)
        if page.status_code == 200 and page.headers["Content-Type"].startswith("text/html"):
            for sent in sent_from(page.content.decode(), path):
                _try_fields(visitor, sent)
            return


def _try_fields(visitor: Browser, sent: Sent) -> None:
    visitor.send(sent, sent.fields)
    for name in sent.fields:
        for value in some(VALUES, sent.path, name):
            visitor.send(sent, {**sent.fields, name: [value]})
        rest = {other: its for other, its in sent.fields.items() if other != name}
        visitor.send(sent, rest)
        visitor.send(sent, {**sent.fields, name: [*sent.fields[name], "1", "x"]})


BODIES = [line for line in LINES if line.url.startswith("api:") and line.body]


@ON_BOTH
@pytest.mark.parametrize("line", BODIES, ids=lambda line: f"{line.method}-{line.url}")
def test_any_value_in_any_body(world: World, browser: Browser, line: Any, database: str) -> None:
    path = address(world, line.url, line.parts)
    body = json.loads(world.fill(line.body))
    bodies: list[Any] = [[], None, 1, "x"]
    for name in body:
        bodies += [{**body, name: value} for value in some(FOR_BODIES, line.url, name)]
        bodies.append({other: value for other, value in body.items() if other != name})
    for each in itertools.chain(bodies, [body]):
        browser.ask(line.method, path, json.dumps(each), "application/json")
