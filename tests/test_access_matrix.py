"""Every address × every role has a declared outcome; what is declared nowhere fails."""

import json
import re
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest
from django.db import connection, transaction
from django.test import Client, override_settings
from django.test.utils import CaptureQueriesContext
from django.urls import URLPattern, URLResolver, get_resolver, reverse
from pytest_django import DjangoDbBlocker

from tests.conftest import forget
from tests.matrix.world import World, make_world

pytestmark = pytest.mark.django_db

ROLES = ("anonymous", "stranger", "volunteer", "coordinator", "organiser")
METHODS = ("GET", "POST", "PUT", "PATCH", "DELETE")
TABLES = sorted((Path(__file__).parent / "matrix").glob("*.txt"))
# It answers whatever no other pattern does, so none of its own addresses can be made from it.
ADDRESSES = {"api:nothing": "/api/v1/nowhere/"}
# The test signs in, which notes when, and begins a session; allauth keeps its addresses in step.
WRITES = re.compile(
    r'(INSERT INTO|UPDATE|DELETE FROM) (?!"accounts_session"|"accounts_user"|"account_|"mfa_)'
)


@dataclass(frozen=True)
class Line:
    """One line of a table."""

    url: str
    method: str
    outcomes: tuple[str, ...]
    parts: dict[str, str]
    body: str

    @classmethod
    def read(cls, text: str) -> "Line":
        head, brace, body = text.partition("{")
        url, method, *rest = head.split()
        outcomes, parts = rest[: len(ROLES)], rest[len(ROLES) :]
        assert len(outcomes) == len(ROLES), f"one outcome for each role: {text}"
        named = dict(part.split("=", 1) for part in parts)
        return cls(url, method, tuple(outcomes), named, brace + body)


def addresses(
    resolver: URLResolver, space: str = "", before: tuple[str, ...] = ()
) -> Iterator[tuple[str, tuple[str, ...]]]:
    """The full name of every pattern, and the parameters of its address."""
    for entry in resolver.url_patterns:
        parts = (*before, *entry.pattern.regex.groupindex)
        if isinstance(entry, URLPattern):
            yield f"{space}{entry.name}", parts
        else:
            inner = f"{space}{entry.namespace}:" if entry.namespace else space
            yield from addresses(entry, inner, parts)


LINES = [
    Line.read(text)
    for table in TABLES
    for text in table.read_text().splitlines()
    if text.strip() and not text.startswith("#")
]
DECLARED = {line.url for line in LINES}
URLS = dict(addresses(get_resolver()))


@pytest.fixture(scope="module")
def world(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[World]:
    """One world for all addresses: what each request does to it is undone at once.

    Its work waits for as long as the tests last, which here is nobody's fault.
    """
    forget()  # made before the first test here, which would do so
    at_ease = override_settings(STANDSTILL={})
    with at_ease, django_db_blocker.unblock(), transaction.atomic():
        yield make_world()
        transaction.set_rollback(True)


def address(world: World, url: str, given: dict[str, str]) -> str:
    if url in ADDRESSES:
        return ADDRESSES[url]
    return reverse(url, kwargs={name: given.get(name) or world.part(name) for name in URLS[url]})


def just_asked(client: Client) -> None:
    """The session is one whose password was given once more just now."""
    session = client.session
    session["account_authentication_methods_user"] = session["_auth_user_id"]
    proof = {"method": "password", "at": time.time(), "reauthenticated": True}
    session["account_authentication_methods"] = [proof]
    session.save()


def ask(world: World, role: str, method: str, path: str, body: str = "") -> str:
    """The outcome; whatever it did is undone."""
    forget()
    client = Client()
    if user := world.user(role):
        client.force_login(user)
        just_asked(client)
    sent = json.loads(world.fill(body)) if body else {}
    with transaction.atomic():
        if method == "POST" and not path.startswith("/api/"):
            answer = client.post(path, sent)
        else:
            content = "" if method in ("GET", "HEAD") else json.dumps(sent)
            answer = client.generic(method, path, content, "application/json")
        if answer.streaming:
            list(answer)  # to the end, as a browser would: only then its file is closed
        transaction.set_rollback(True)
    to_sign_in = answer.headers.get("Location", "").startswith(reverse("account_login"))
    return "login" if to_sign_in else str(answer.status_code)


@pytest.mark.parametrize("url", sorted(URLS))
def test_everybody_gets_what_is_declared(world: World, url: str) -> None:
    lines = [line for line in LINES if line.url == url]
    assert lines, f"{url} is in no table of tests/matrix"
    for line in lines:
        path = address(world, url, line.parts)
        got = tuple(ask(world, role, line.method, path, line.body) for role in ROLES)
        assert dict(zip(ROLES, got, strict=True)) == dict(zip(ROLES, line.outcomes, strict=True)), (
            f"{line.method} {path}"
        )


@pytest.mark.parametrize(
    "url", sorted(url for url in URLS if not url.startswith(("account_", "mfa_")))
)
def test_what_no_line_names_is_not_allowed(world: World, url: str) -> None:
    """allauth's own views are left out: they take a PUT for a POST."""
    named = {line.method for line in LINES if line.url == url}
    path = address(world, url, {})
    for method in METHODS:
        if method not in named:
            assert ask(world, "organiser", method, path) == "405", f"{method} {path}"


@pytest.mark.parametrize("url", sorted(URLS))
def test_whatever_can_be_read_answers_head_alike_and_changes_nothing(
    world: World, url: str
) -> None:
    for line in LINES:
        if line.url == url and line.method == "GET":
            path = address(world, url, line.parts)
            with CaptureQueriesContext(connection) as asked:
                assert ask(world, "organiser", "HEAD", path) == line.outcomes[-1], path
            written = [query["sql"] for query in asked if WRITES.match(query["sql"])]
            assert written == [], path


def test_no_line_is_about_an_address_that_does_not_exist() -> None:
    assert URLS.keys() >= DECLARED


def test_no_two_addresses_share_a_name() -> None:
    names = [name for name, _parts in addresses(get_resolver())]
    assert sorted(names) == sorted(set(names))
