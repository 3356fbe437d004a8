"""No value in any address, field or body makes the site fail: it is refused, or taken.

Generated from the list of addresses and from the forms that the pages show. Each field gets each
value; ``MITREWISE_TEST_VALUES=all`` tries all of them, and else each field gets some, others for
each field. What a request does is undone.
"""

import itertools
import json
import os
import zlib
from collections.abc import Iterator
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.db import transaction
from django.test import Client, override_settings
from django.urls import reverse
from pytest_django import DjangoDbBlocker

from tests.conftest import forget
from tests.matrix.world import World, make_world
from tests.test_access_matrix import LINES, URLS, address

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
PAGES = {line.url for line in LINES if line.method == "GET" and not line.url.startswith("api:")}
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
    """The organiser's; each request is undone, and none may fail."""

    def __init__(self, world: World) -> None:
        self.user = world.user("organiser")
        self.failed: list[str] = []

    def ask(self, method: str, path: str, **sent: Any) -> Any:
        forget()
        client: Any = Client(raise_request_exception=False)
        assert self.user
        with transaction.atomic():
            client.force_login(self.user)
            answer = client.generic(method, path, **sent)
            if answer.streaming:
                list(answer)
            transaction.set_rollback(True)
        if answer.status_code >= 500:
            shown = str(sent.get("QUERY_STRING") or sent.get("data") or "")[:200]
            cause = answer.exc_info[1] if getattr(answer, "exc_info", None) else ""
            self.failed.append(f"{method} {path[:100]} {shown!r}: {cause!r}"[:400])
        return answer

    def send(self, sent: Sent, fields: dict[str, list[str]]) -> None:
        forget()
        client: Any = Client(raise_request_exception=False)
        assert self.user
        files = {name: SimpleUploadedFile("x.csv", b"colour\nred\n") for name in sent.files}
        with transaction.atomic():
            client.force_login(self.user)
            if sent.method == "POST":
                answer = client.post(sent.path, {**fields, **files})
            else:
                answer = client.get(sent.path, fields)
            transaction.set_rollback(True)
        if answer.status_code >= 500:
            cause = answer.exc_info[1] if getattr(answer, "exc_info", None) else ""
            told = {name: [each[:30] for each in its] for name, its in fields.items()}
            self.failed.append(f"{sent.method} {sent.path} {told}: {cause!r}"[:600])


@pytest.fixture
def browser(world: World) -> Iterator[Browser]:
    browser = Browser(world)
    yield browser
    assert browser.failed == []


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
            from urllib.parse import quote

            path = path.replace("7777777", quote(value, safe=""))
            browser.ask("GET", path)
            browser.ask("POST", path)


@ON_BOTH
@pytest.mark.parametrize("url", sorted(PAGES))
def test_any_value_in_any_field(world: World, browser: Browser, url: str, database: str) -> None:
    path = address(world, url, {})
    page = browser.ask("GET", path)
    if page.status_code != 200 or not page.headers["Content-Type"].startswith("text/html"):
        return
    for sent in sent_from(page.content.decode(), path):
        for name in sent.fields:
            for value in some(VALUES, url, sent.path, name):
                browser.send(sent, {**sent.fields, name: [value]})
        for name in sent.fields:
            rest = {other: its for other, its in sent.fields.items() if other != name}
            browser.send(sent, rest)
            browser.send(sent, {**sent.fields, name: [*sent.fields[name], "1", "x"]})


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
        browser.ask(line.method, path, data=json.dumps(each), content_type="application/json")
