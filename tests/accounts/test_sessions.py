"""Being signed in: how long, where, and its end."""

import re
from datetime import timedelta
from importlib import import_module

import pytest
from django.apps import apps
from django.contrib.sessions.backends.db import SessionStore as FormerStore
from django.core.cache import cache
from django.test import Client
from django.utils import timezone

from accounts.models import Session
from accounts.sessions import BEGUN, SEEN
from tests.cast import PASSWORD, Cast

FIREFOX = "Mozilla/5.0 (Windows NT 10.0; rv:140.0) Gecko/20100101 Firefox/140.0"
PAGE = "/me/browsers/"


@pytest.fixture(autouse=True)
def _no_one_has_tried_before() -> None:
    cache.clear()


def sign_in(*, agent: str = FIREFOX, **more: str) -> Client:
    """Stan's browser."""
    client = Client(headers={"user-agent": agent})
    sent = {"login": "stan@example.org", "password": PASSWORD, **more}
    assert client.post("/account/login/", sent).status_code == 302
    return client


def is_in(client: Client) -> bool:
    return client.get("/me/").status_code == 200


def later(client: Client, wait: timedelta, since: str = SEEN) -> None:
    """As if the session had been used, or begun, that much earlier."""
    session = client.session
    session[since] -= wait.total_seconds()
    session.save()


def test_each_browser_is_listed_and_ended_by_one_press(cast: Cast) -> None:
    here, there = sign_in(), sign_in(agent="Mozilla/5.0 (iPhone) Version/18 Safari/604")
    page = here.get(PAGE).content.decode()
    assert "Firefox, Windows (this one)" in page
    assert "Safari, iPhone" in page
    assert str(here.session.session_key) not in page
    assert str(there.session.session_key) not in page
    other = Session.objects.get(browser__contains="iPhone")
    assert other.user == cast.stan
    here.post(f"{PAGE}{other.mark}/end/")
    assert (is_in(here), is_in(there)) == (True, False)


def test_all_others_end_by_one_press(cast: Cast) -> None:
    here, there, away = sign_in(), sign_in(), sign_in()
    here.post(f"{PAGE}others/end/")
    assert [is_in(client) for client in (here, there, away)] == [True, False, False]


def test_nobody_ends_the_sessions_of_others(cast: Cast, client: Client) -> None:
    stan = sign_in()
    assert cast.vera.user
    client.force_login(cast.vera.user)
    mark = Session.objects.get(user=cast.stan).mark
    assert client.post(f"{PAGE}{mark}/end/").status_code == 404
    client.post(f"{PAGE}others/end/")
    assert is_in(stan)


def test_on_a_shared_computer_it_ends_with_the_browser_or_after_an_hour(cast: Cast) -> None:
    shared, own = sign_in(shared="on"), sign_in()
    assert shared.cookies["sessionid"]["max-age"] == ""
    assert own.cookies["sessionid"]["max-age"] == 14 * 24 * 3600
    for client in (shared, own):
        later(client, timedelta(minutes=59))
        assert is_in(client)
    for client in (shared, own):
        later(client, timedelta(minutes=61))
    assert (is_in(shared), is_in(own)) == (False, True)


def test_a_clock_that_was_put_back_makes_no_session_longer(cast: Cast) -> None:
    shared, own = sign_in(shared="on"), sign_in()
    for client in (shared, own):
        for since in (SEEN, BEGUN):
            later(client, -timedelta(days=30), since)
    assert (is_in(shared), is_in(own)) == (False, True)
    assert own.session[BEGUN] <= timezone.now().timestamp()
    assert own.session[SEEN] <= timezone.now().timestamp()


def test_it_lasts_as_long_as_it_is_used_but_not_for_ever(cast: Cast) -> None:
    client = sign_in()
    later(client, timedelta(hours=1))
    Session.objects.update(expire_date=timezone.now() + timedelta(hours=1))
    assert is_in(client)
    assert Session.objects.get().expire_date > timezone.now() + timedelta(days=13)
    later(client, timedelta(days=90), since=BEGUN)
    assert not is_in(client)


def test_what_is_used_all_the_time_is_noted_now_and_then(cast: Cast) -> None:
    client = sign_in()
    noted = Session.objects.get().seen_at
    later(client, timedelta(minutes=5))
    is_in(client)
    assert noted
    assert Session.objects.get().seen_at == noted - timedelta(minutes=5)
    later(client, timedelta(minutes=5))
    is_in(client)
    assert (Session.objects.get().seen_at or noted) >= noted


def test_who_was_signed_in_before_stays_so(cast: Cast, client: Client) -> None:
    client.force_login(cast.stan)
    former = FormerStore()
    former.update(dict(client.session.items()))
    former.save()
    Session.objects.all().delete()
    import_module("accounts.migrations.0007_sessions").keep_signed_in(apps, None)
    client.cookies["sessionid"] = str(former.session_key)
    assert is_in(client)


@pytest.mark.parametrize("path", ["/me/", "/circles/", "/", "/api/v1/circles/", "/nowhere/"])
def test_what_is_for_one_person_is_kept_nowhere(cast: Cast, client: Client, path: str) -> None:
    client.force_login(cast.stan)
    assert "no-store" in client.get(path).headers["Cache-Control"]


def test_what_is_for_everybody_may_be_kept(db: None, client: Client) -> None:
    answer = client.get("/")
    assert "no-store" not in answer.headers.get("Cache-Control", "")
    assert re.match(r"camera=\(\)", answer.headers["Permissions-Policy"])
