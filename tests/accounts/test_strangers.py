"""What strangers can learn about logins and do to them: nothing."""

import re
from collections.abc import Callable

import pytest
from django.contrib.auth.hashers import MD5PasswordHasher
from django.core.cache import cache
from django.test import Client
from django.urls import reverse
from django.utils import timezone
from pytest_django import Settings

from accounts import actions
from accounts.models import Role, User
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
