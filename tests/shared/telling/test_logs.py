"""The log: who asked when, as a line or as JSON, without secrets and everyday answers."""

import io
import json
import logging
from collections.abc import Iterator

import pytest
from django.http import HttpRequest, HttpResponse
from django.test import Client, RequestFactory
from django.urls import reverse

from shared.telling.logs import Json, Lines, NotEveryday, NumberedRequests
from tests.cast import Cast
from tests.test_access_matrix import URLS

SECRETS = {"token", "secret", "signed", "link", "key"}
PLANTED = "Jk3x_secret-of-the-address:0b1"


@pytest.fixture(params=[Lines, Json])
def written(request: pytest.FixtureRequest) -> Iterator[io.StringIO]:
    """What the console would show."""
    stream = io.StringIO()
    handler = logging.StreamHandler(stream)
    handler.setFormatter(request.param())
    handler.addFilter(NotEveryday())
    logging.getLogger().addHandler(handler)
    yield stream
    logging.getLogger().removeHandler(handler)


@pytest.mark.parametrize("url", sorted(url for url, parts in URLS.items() if SECRETS & set(parts)))
def test_no_address_tells_its_secret(written: io.StringIO, url: str) -> None:
    parts = {name: PLANTED if name in SECRETS else "1" for name in URLS[url]}
    path = reverse(url, kwargs=parts)
    try:
        raise RuntimeError(f"at {path}")
    except RuntimeError as error:
        logging.getLogger("django.request").error("Internal: %s", path, exc_info=error)

    assert "Internal: /" in written.getvalue()
    assert PLANTED not in written.getvalue()
    assert "…" in written.getvalue() or "\\u2026" in written.getvalue()


@pytest.mark.django_db
def test_404_and_409_are_no_warnings(written: io.StringIO, client: Client) -> None:
    assert client.get("/circles/1/nowhere/").status_code == 404
    assert written.getvalue() == ""


@pytest.mark.django_db
def test_a_line_names_the_request_and_the_person(written: io.StringIO, cast: Cast) -> None:
    client = Client(raise_request_exception=False)
    assert cast.vera.user
    client.force_login(cast.vera.user)

    answer = client.get(f"/circles/{cast.circle.pk}/settings/")

    assert answer.status_code == 403
    number = answer.headers["X-Request-Id"]
    line = written.getvalue()
    if line.startswith("{"):
        told = json.loads(line)
        assert (told["request"], told["person"]) == (number, cast.vera.user.pk)
        assert told["level"] == "warning"
        assert told["time"].endswith("Z")
    else:
        assert f"[{number} person {cast.vera.user.pk}] Forbidden" in line
        assert line[:4].isdecimal()


def test_what_is_sent_does_not_look_like_a_line(written: io.StringIO) -> None:
    logging.getLogger("x").warning("at %s", "a\n2026-01-01T00:00:00Z ERROR forged")

    assert written.getvalue().count("\n") == 1


def test_each_request_has_a_number_of_its_own() -> None:
    def view(request: HttpRequest) -> HttpResponse:
        return HttpResponse()

    named = NumberedRequests(view)
    answers = [named(RequestFactory().get("/")).headers["X-Request-Id"] for _ in range(2)]

    assert len(set(answers)) == 2
