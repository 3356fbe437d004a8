"""Signing in with a second step: a code from an app, a recovery code, a passkey."""

import base64
import hashlib
import hmac
import re
import struct
import time

import pytest
from allauth.mfa.models import Authenticator
from django.core.cache import cache
from django.test import Client
from playwright.sync_api import Page
from pytest_django import Settings

from accounts.models import Member
from tests.cast import PASSWORD, Cast, enter
from tests.postman import outbox

SIGN_IN, SET_UP = "/account/login/", "/account/2fa/totp/activate/"


@pytest.fixture(autouse=True)
def _no_one_has_tried_before() -> None:
    cache.clear()


def code_of(secret: str) -> str:
    """What an app shows now: RFC 6238 with SHA-1, 30 seconds and six digits."""
    counter = struct.pack(">Q", int(time.time()) // 30)
    digest = hmac.new(base64.b32decode(secret), counter, hashlib.sha1).digest()
    start = digest[-1] & 15
    number = struct.unpack(">I", digest[start : start + 4])[0] & 0x7FFFFFFF
    return f"{number % 1_000_000:06}"


def set_up(member: Member) -> tuple[Client, str]:
    """The member's browser, and the secret in their app."""
    assert member.user
    client = Client()
    enter(client, member.user)
    page = client.get(SET_UP).content.decode()
    assert "data:image/svg+xml" in page
    found = re.search(r'id="authenticator_secret">(\w+)<', page)
    assert found
    done = client.post(SET_UP, {"code": code_of(found[1])})
    assert done.status_code == 302
    return client, found[1]


def give_password(member: Member) -> tuple[Client, str]:
    """A new browser after the password, and where it is sent."""
    assert member.user
    client = Client()
    answer = client.post(SIGN_IN, {"login": member.user.email, "password": PASSWORD})
    return client, answer.headers["Location"]


@pytest.mark.django_db(transaction=True)
def test_its_owner_is_told(cast: Cast) -> None:
    set_up(cast.olga)
    assert "Signing in now asks for a code" in [letter.subject for letter in outbox()]


def test_a_password_alone_does_not_let_in(cast: Cast) -> None:
    _client, secret = set_up(cast.olga)
    client, asked = give_password(cast.olga)
    assert asked == "/account/2fa/authenticate/"
    assert client.get("/me/").status_code == 302
    assert "Type the code" in client.get(asked).content.decode()
    assert client.post(asked, {"code": "000000"}).status_code == 200
    assert client.get("/me/").status_code == 302
    cache.clear()  # the code has been used once just now, to set it up
    assert client.post(asked, {"code": code_of(secret)}).headers["Location"] == "/"
    assert client.get("/me/").status_code == 200


def test_a_recovery_code_lets_in_once(cast: Cast) -> None:
    own, _secret = set_up(cast.olga)
    page = own.get("/account/2fa/recovery-codes/").content.decode()
    codes = re.findall(r"<code>(\w+)</code>", page)
    assert len(codes) == 10
    for works in (True, False):
        client, asked = give_password(cast.olga)
        client.post(asked, {"code": codes[0]})
        assert (client.get("/me/").status_code == 200) is works


def test_the_secrets_lie_encrypted_and_outlive_a_new_secret_key(
    cast: Cast, settings: Settings
) -> None:
    _own, secret = set_up(cast.olga)
    kept = "".join(str(row.data) for row in Authenticator.objects.all())
    assert secret not in kept
    settings.SECRET_KEY_FALLBACKS, settings.SECRET_KEY = [settings.SECRET_KEY], "another" * 10
    client, asked = give_password(cast.olga)
    cache.clear()
    assert client.post(asked, {"code": code_of(secret)}).headers["Location"] == "/"


def test_it_is_taken_away_only_after_being_asked_again(cast: Cast) -> None:
    set_up(cast.olga)
    assert cast.olga.user
    thief = Client()
    thief.force_login(cast.olga.user)
    asked = thief.post("/account/2fa/totp/deactivate/")
    assert asked.headers["Location"].startswith("/account/reauthenticate/")
    assert Authenticator.objects.filter(type="totp").exists()


def test_the_address_can_still_be_changed(cast: Cast) -> None:
    own, _secret = set_up(cast.olga)
    own.post("/account/email/", {"email": "olga@example.net", "action_add": ""})
    assert outbox()[-1].to == ["olga@example.net"]


def test_organisers_can_be_made_to_have_one(cast: Cast, settings: Settings) -> None:
    settings.SECOND_FACTOR = "organisers"
    clients = {}
    for name in ("olga", "vera"):
        member = getattr(cast, name)
        clients[name] = Client()
        enter(clients[name], member.user)
    circle = f"/circles/{cast.circle.pk}/"
    assert clients["vera"].get(circle).status_code == 200
    assert clients["olga"].get(circle).headers["Location"] == "/account/2fa/"
    assert clients["olga"].get("/api/v1/circles/").status_code == 403
    told = clients["olga"].get("/account/2fa/").content.decode()
    assert "must sign in with a second step" in told
    own, _secret = set_up(cast.olga)
    assert own.get(circle).status_code == 200


@pytest.mark.browser
def test_a_passkey_signs_in_without_a_password(cast: Cast, page: Page) -> None:
    devices = page.context.new_cdp_session(page)
    devices.send("WebAuthn.enable")
    device = {
        "protocol": "ctap2",
        "transport": "internal",
        "hasResidentKey": True,
        "hasUserVerification": True,
        "isUserVerified": True,
    }
    devices.send("WebAuthn.addVirtualAuthenticator", {"options": device})
    page.goto(SIGN_IN)
    page.get_by_label("Email").fill("olga@example.org")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in", exact=True).click()
    page.goto("/account/2fa/webauthn/add/")
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Go on").click()
    page.get_by_label("Without a password").check()
    page.get_by_role("button", name="Add it").click()
    page.get_by_text("Recovery codes").first.wait_for()
    page.goto("/account/2fa/webauthn/")
    assert page.get_by_text("Passkey 1").first.is_visible()
    page.context.clear_cookies()
    page.goto(SIGN_IN)
    page.get_by_role("button", name="Sign in with a passkey").click()
    page.wait_for_url("/")
    page.goto("/me/")
    assert page.get_by_role("heading", name="Me", exact=True).is_visible()
