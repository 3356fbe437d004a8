"""A new password ends whatever was opened with the old one; whose it is, is asked and told."""

from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from accounts import actions
from accounts.models import ApiToken, User
from drives.actions.circles.feeds import make_feed
from tests.accounts.test_addresses import link
from tests.cast import NOW, PASSWORD, Cast, enter
from tests.postman import outbox

NEW = "purl-two-together"


def change(client: Client, user: User) -> None:
    enter(client, user)
    sent = {"oldpassword": PASSWORD, "password1": NEW, "password2": NEW}
    client.post("/account/password/change/", sent)


def reset(client: Client, user: User) -> None:
    client.post("/account/password/reset/", {"email": user.email})
    form = client.get(link()).headers["Location"]
    client.post(form, {"password1": NEW, "password2": NEW})


@pytest.mark.parametrize("renew", [change, reset])
def test_keys_and_calendars_end_with_the_password(cast: Cast, renew: object) -> None:
    user = cast.vera.user
    assert user
    assert callable(renew)
    _token, key = actions.make_token(user=user, name="thief", now=timezone.now())
    secret = make_feed(member=cast.vera, now=timezone.now())
    thief = Client()
    thief.force_login(user)
    renew(Client(), user)
    asked = thief.get("/api/v1/circles/", headers={"authorization": f"Token {key}"})
    assert asked.status_code == 401
    assert thief.get(f"/calendar/{secret}.ics").status_code == 404
    assert thief.get("/me/").status_code == 302
    user.refresh_from_db()
    assert not user.api_tokens.live(timezone.now()).exists()
    _token, key = actions.make_token(user=user, name="own", now=timezone.now())
    assert actions.use_token(key=key, now=timezone.now())
    assert outbox()[-1].subject == "Your password has been changed"
    assert outbox()[-1].to == [user.email]


def test_a_key_ends_on_its_day(cast: Cast) -> None:
    token, key = actions.make_token(user=cast.stan, name="short", days=30, now=NOW)
    last = NOW + timedelta(days=30)
    assert token.expires_at == last
    assert actions.use_token(key=key, now=last - timedelta(seconds=1))
    assert not actions.use_token(key=key, now=last)


def test_a_key_is_made_after_the_password_is_given_once_more(cast: Cast, client: Client) -> None:
    client.force_login(cast.stan)
    sent = {"name": "thief", "read_only": "no", "days": "30"}
    asked = client.post("/me/keys/new/", sent)
    assert asked.headers["Location"].startswith("/account/reauthenticate/")
    wrong = client.post(asked.headers["Location"], {"password": "wrong"})
    assert "Is it you?" in wrong.content.decode()
    assert not ApiToken.objects.exists()
    made = client.post(asked.headers["Location"], {"password": PASSWORD})
    assert "It is shown only now" in made.content.decode()
    token = ApiToken.objects.get()
    assert (token.name, token.read_only, token.second_step) == ("thief", False, False)
    assert "can do everything that you can do" in outbox()[-1].body
    assert outbox()[-1].subject == "A key to your circles has been made"
    assert outbox()[-1].to == ["stan@example.org"]


def test_an_address_changes_after_the_password_is_given_once_more(
    cast: Cast, client: Client
) -> None:
    client.force_login(cast.stan)
    asked = client.post("/account/email/", {"email": "thief@example.net", "action_add": ""})
    assert asked.headers["Location"].startswith("/account/reauthenticate/")
    assert outbox() == []
    client.post(asked.headers["Location"], {"password": PASSWORD})
    assert outbox()[-1].to == ["thief@example.net"]
    client.post(link())
    told = outbox()[-1]
    assert (told.subject, told.to) == ("Your email address has been changed", ["stan@example.org"])
    assert "thief@example.net" in told.body
