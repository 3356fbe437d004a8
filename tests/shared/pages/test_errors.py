"""The pages that say no, or that something went wrong: in our words, and in the site's looks."""

import re

import pytest
from django.core.cache import cache
from django.db import OperationalError, connection
from django.test import Client

from tests.cast import Cast, enter

pytestmark = pytest.mark.django_db


def words(html: bytes) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", html.decode()))


def test_a_form_that_cannot_be_trusted_says_what_to_do() -> None:
    browser = Client(enforce_csrf_checks=True)
    answer = browser.post("/account/login/", {"login": "x@example.org", "password": "x"})
    assert answer.status_code == 403
    assert "Go back, load the page again" in words(answer.content)
    assert b"site.css" in answer.content


def test_an_address_that_waits_for_a_press_shows_a_page(cast: Cast, client: Client) -> None:
    """As when one had to sign in first: one is led there by a link."""
    assert cast.vera.user
    client.force_login(cast.vera.user)
    answer = client.get("/me/browsers/others/end/")
    assert (answer.status_code, answer.headers["Allow"]) == (405, "POST")
    assert "only does something when a button is pressed" in words(answer.content)


def test_what_cannot_be_read_gets_a_page(client: Client) -> None:
    answer = client.get("/", headers={"host": "elsewhere.example"})
    assert answer.status_code == 400
    assert "so nothing was changed" in words(answer.content)


def test_what_is_too_large_gets_a_page(client: Client) -> None:
    answer = client.post("/account/login/", {"login": "x" * 30_000_000})
    assert answer.status_code == 413
    assert "try a smaller one" in words(answer.content)


def test_who_tries_too_often_reads_how_long_to_wait(client: Client) -> None:
    cache.clear()
    for _attempt in range(30):
        answer = client.post("/account/password/reset/", {"email": "vera@example.org"})
    assert answer.status_code == 429
    assert "Please wait a minute" in words(answer.content)
    cache.clear()


def test_without_its_records_the_site_asks_to_try_again(cast: Cast, client: Client) -> None:
    def away(*_call: object) -> None:
        raise OperationalError("the connection was closed")

    assert cast.vera.user
    enter(client, cast.vera.user)
    client.raise_request_exception = False
    with connection.execute_wrapper(away):
        answer = client.get("/me/")
    assert (answer.status_code, answer.headers["Retry-After"]) == (503, "5")
    assert "cannot reach its records just now" in words(answer.content)
