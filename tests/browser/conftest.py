"""Real browsers on the live site, each signed in as one of the cast."""

from collections.abc import Callable, Iterator
from datetime import datetime

import pytest
from django.conf import settings
from django.test import Client
from django.utils import timezone
from playwright.sync_api import Browser, BrowserContext, Page
from pytest_django.live_server_helper import LiveServer

from accounts.models import User
from tests.desk import DAY
from tests.test_access_matrix import just_asked

WIDE, NARROW = 1280, 360

SignIn = Callable[..., Page]


@pytest.fixture
def came_in(live_server: LiveServer) -> datetime:
    return timezone.now() - DAY


@pytest.fixture
def sign_in(browser: Browser, live_server: LiveServer) -> Iterator[SignIn]:
    """A page of a fresh browser in which ``user``, or nobody, is signed in already."""
    opened: list[BrowserContext] = []

    def enter(user: User | None, width: int = WIDE, *, scripts: bool = True) -> Page:
        context = browser.new_context(
            base_url=live_server.url,
            viewport={"width": width, "height": 900},
            java_script_enabled=scripts,
        )
        context.set_default_timeout(10_000)
        opened.append(context)
        if user:
            client = Client()
            client.force_login(user)
            just_asked(client)
            key = client.cookies[settings.SESSION_COOKIE_NAME].value
            context.add_cookies(
                [{"name": settings.SESSION_COOKIE_NAME, "value": key, "url": live_server.url}]
            )
        return context.new_page()

    yield enter
    for context in opened:
        context.close()
