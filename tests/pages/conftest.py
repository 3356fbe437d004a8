"""The people of these tests, and the pages as each of them reads them."""

import re
from datetime import datetime
from html import unescape
from typing import Any

import pytest
from django.http import HttpResponse
from django.test import Client
from django.utils import timezone

from accounts.models import Member, User
from tests.cast import Cast
from tests.desk import DAY


class Reader:
    """The site as one person, or nobody, reads it in a browser without JavaScript."""

    def __init__(self, user: User | None) -> None:
        self.client = Client()
        if user:
            self.client.force_login(user)

    def get(self, path: str, data: dict[str, Any] | None = None, **more: Any) -> Any:
        return self.client.get(path, data, **more)

    def post(self, path: str, data: dict[str, Any] | None = None, **more: Any) -> Any:
        return self.client.post(path, data or {}, **more)

    def read(self, path: str, data: dict[str, Any] | None = None) -> str:
        """The words of the page, which is there."""
        response = self.get(path, data)
        assert response.status_code == 200
        return words(response)

    def press(self, path: str, data: dict[str, Any] | None = None) -> str:
        """The words of the page that the press leads to."""
        response = self.post(path, data, follow=True)
        assert response.redirect_chain
        assert response.status_code == 200
        return words(response)


def words(response: HttpResponse) -> str:
    """What stands in the main part of the page, in one line."""
    text = response.content.decode()
    main = text.partition('id="main" tabindex="-1">')[2].partition("</main>")[0] or text
    without_drawings = re.sub(r"<svg\b.*?</svg>", " ", main, flags=re.DOTALL)
    told = " ".join(unescape(re.sub(r"<[^>]+>", " ", without_drawings)).split())
    return re.sub(r" (?=[.,:;)])", "", told)


@pytest.fixture
def came_in() -> datetime:
    return timezone.now() - 30 * DAY


@pytest.fixture
def olga(cast: Cast) -> Reader:
    return reader(cast.olga)


@pytest.fixture
def cora(cast: Cast) -> Reader:
    return reader(cast.cora)


@pytest.fixture
def vera(cast: Cast) -> Reader:
    return reader(cast.vera)


@pytest.fixture
def stan(cast: Cast) -> Reader:
    return Reader(cast.stan)


@pytest.fixture
def anybody() -> Reader:
    return Reader(None)


def reader(member: Member) -> Reader:
    return Reader(member.user)
