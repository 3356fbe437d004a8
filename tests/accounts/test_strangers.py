"""What strangers can learn about logins and do to them: nothing."""

import re
from collections.abc import Callable
from typing import Any

import pytest
from django.contrib.auth.hashers import MD5PasswordHasher
from django.core.cache import cache
from django.db import connection
from django.template import Template
from django.test import Client
from django.test.signals import template_rendered
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone
from pytest_django import Settings

from accounts import actions
from accounts.models import Mail, Role, User
from tests.accounts.test_addresses import link
from tests.cast import PASSWORD, Cast
from tests.postman import outbox

SIGN_UP, SIGN_IN = "/account/signup/", "/account/login/"
Post = Callable[[str, dict[str, str]], tuple[int, str, str]]


@pytest.fixture(autouse=True)
def _no_one_has_tried_before() -> None:
    cache.clear()


def sign_up(client: Client, email: str, **more: str) -> tuple[int, str, str]:
    """Status, where it leads, and what is said there."""
    sent = {"name": "Nora", "email": email, "password1": PASSWORD, **more}
    answer = client.post(SIGN_UP, sent)
    there = client.get(answer.headers.get("Location", SIGN_UP)).content.decode()
    told = re.sub(r'nonce="[^"]*"|value="[\w-]{64}"', "", there).replace(email, "…")
    return answer.status_code, answer.headers.get("Location", ""), told


def test_signing_up_does_not_tell_who_has_a_login(cast: Cast, settings: Settings) -> None:
    settings.ACCOUNT_EMAIL_VERIFICATION = "mandatory"
    known = sign_up(Client(), "olga@example.org")
    assert known == sign_up(Client(), "nora@example.org")
    assert known[0] == 302
    assert [letter.subject for letter in outbox()] == [
        "You already have a login",
        "Confirm your email address",
    ]


def test_signing_up_takes_as_long_where_there_is_a_login(
    cast: Cast, settings: Settings, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What takes long is to hash the password."""
    settings.ACCOUNT_EMAIL_VERIFICATION = "mandatory"
    hashed = []
    encode = MD5PasswordHasher.encode

    def count(hasher: MD5PasswordHasher, password: str, salt: str) -> str:
        hashed.append(password)
        return encode(hasher, password, salt)

    monkeypatch.setattr(MD5PasswordHasher, "encode", count)
    sign_up(Client(), "nora@example.org")
    assert len(hashed) == 1
    sign_up(Client(), "olga@example.org")
    assert len(hashed) == 2


def forget_password(email: str, committed: Callable[..., Any]) -> list[str]:
    """What the site does about it: templates filled, queries, work for later."""
    done: list[str] = []

    def note(template: Template, **_signal: object) -> None:
        done.append(str(template.name))

    template_rendered.connect(note)
    try:
        with CaptureQueriesContext(connection) as queries, committed() as later:
            Client().post("/account/password/reset/", {"email": email})
    finally:
        template_rendered.disconnect(note)
    done += [re.sub(r"'[^']*'|\d+", "…", query["sql"]) for query in queries]
    return [*done, f"{len(later)} for later"]


def test_a_forgotten_password_takes_as_long_where_there_is_no_login(
    cast: Cast, django_capture_on_commit_callbacks: Callable[..., Any]
) -> None:
    committed = django_capture_on_commit_callbacks
    known = forget_password("olga@example.org", committed)
    assert known == forget_password("nora@example.org", committed)
    assert known[0] == "account/email/password_reset_key_subject.txt"
    assert known[-1] == "1 for later"
    assert [mail.to for mail in Mail.objects.all()] == ["olga@example.org"]


def test_a_new_password_does_not_go_to_an_address_that_is_only_wanted(cast: Cast) -> None:
    """It may be mistyped, and be a stranger’s."""
    assert cast.olga.user
    actions.want_address(user=cast.olga.user, email="stranger@example.org")
    Client().post("/account/password/reset/", {"email": "stranger@example.org"})
    assert not Mail.objects.exists()


def test_who_signs_up_by_an_invitation_comes_in_by_the_link_of_the_mail(
    cast: Cast, client: Client, settings: Settings
) -> None:
    settings.ACCOUNT_EMAIL_VERIFICATION = "mandatory"
    token = actions.invite_person(
        by=cast.olga, roles=[Role.VOLUNTEER], days=14, now=timezone.now()
    ).token
    join = reverse("accounts:join", args=[token])
    sign_up(client, "nora@example.org", next=join)
    assert client.get("/me/").status_code == 302
    assert client.post(link()).headers["Location"] == join
    assert client.get("/me/").status_code == 200


def attempt(password: str, network: str) -> bool:
    """Whether Olga comes in."""
    client = Client(REMOTE_ADDR=network)
    answer = client.post(SIGN_IN, {"login": "olga@example.org", "password": password})
    return answer.status_code == 302


def test_who_guesses_keeps_nobody_else_out(cast: Cast) -> None:
    for _ in range(5):
        assert not attempt("guessed", "192.0.2.1")
    assert not attempt(PASSWORD, "192.0.2.1")
    assert attempt(PASSWORD, "198.51.100.1")


OBVIOUS = ["mitrewise", "Blanket1", "knitting", "knitting2026!", "Norabel1", "norabelpurl9"]


IN_OUR_WORDS = {
    "seven-7": "A password needs at least 8 characters.",
    "letmein123": "Many people use this password",
    "8301947265": "Digits alone are soon guessed.",
    "stitches@wool": "This is too much like your email address.",
}


@pytest.mark.parametrize(("password", "why"), IN_OUR_WORDS.items())
def test_why_a_password_is_refused_is_said_in_our_words(
    db: None, client: Client, password: str, why: str
) -> None:
    sent = {"name": "Nora", "email": "stitches@wool.example", "password1": password}
    page = client.post(SIGN_UP, sent).content.decode()
    assert why in page
    for theirs in ("too short", "common", "entirely numeric", "too similar"):
        assert theirs not in page


@pytest.mark.parametrize("password", OBVIOUS)
def test_the_first_guesses_are_no_passwords(db: None, client: Client, password: str) -> None:
    sent = {"name": "Norabel Purl", "email": "me@example.org", "password1": password}
    assert client.post(SIGN_UP, sent).status_code == 200
    assert not User.objects.exists()


def test_one_does_not_change_to_ones_own_name(cast: Cast, client: Client) -> None:
    User.objects.filter(pk=cast.stan.pk).update(name="Stanislaus")
    client.force_login(cast.stan)
    sent = {"oldpassword": PASSWORD, "password1": "stanislaus1", "password2": "stanislaus1"}
    answer = client.post("/account/password/change/", sent)
    assert "too much like your name" in answer.content.decode()
