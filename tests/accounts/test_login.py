"""Signing up, signing in, a new password."""

import re

import pytest
from allauth.account.models import EmailAddress
from django.core.cache import cache
from django.test import Client
from django.urls import reverse
from django.utils import timezone

from accounts import actions
from accounts.models import Member, Role, User
from tests.cast import PASSWORD, Cast, login
from tests.postman import outbox

SIGN_UP = "/account/signup/"
SIGN_IN = "/account/login/"


@pytest.fixture(autouse=True)
def _no_one_has_tried_before() -> None:
    cache.clear()


def sign_up(client: Client, **changed: str) -> str:
    """Where it leads, or the page with what is wrong."""
    sent = {"name": "Nora", "email": "nora@example.org", "password1": PASSWORD}
    answer = client.post(SIGN_UP, sent | changed)
    return str(answer.headers.get("Location", answer.content.decode()))


def test_signing_up_asks_for_a_name_and_keeps_it(db: None, client: Client) -> None:
    assert sign_up(client) == "/"
    assert User.objects.get(email="nora@example.org").name == "Nora"
    assert client.get(reverse("accounts:me")).status_code == 200


def test_signing_up_without_a_name_is_no_sign_up(db: None, client: Client) -> None:
    assert "This field is required" in sign_up(client, name=" ")
    assert not User.objects.exists()


def test_an_address_in_capitals_is_the_same_address(db: None, client: Client) -> None:
    sign_up(client, email="Nora@Example.ORG")
    assert User.objects.get().email == "nora@example.org"
    client.logout()
    answer = client.post(SIGN_IN, {"login": "NORA@example.org", "password": PASSWORD})
    assert answer.headers["Location"] == "/"


def test_one_address_has_one_login(db: None, client: Client) -> None:
    login("Nora")
    assert "already a login with this email" in sign_up(client, email="NORA@example.org")
    assert User.objects.count() == 1


def test_a_weak_password_is_refused(db: None, client: Client) -> None:
    assert "A password needs at least" in sign_up(client, password1="seam")
    assert not User.objects.exists()


def test_a_wrong_password_does_not_let_in(cast: Cast, client: Client) -> None:
    answer = client.post(SIGN_IN, {"login": "olga@example.org", "password": "wrong"})
    assert answer.status_code == 200
    assert "password is not right" in answer.content.decode()


def test_a_newcomer_with_a_link_ends_in_the_circle(cast: Cast, client: Client) -> None:
    token = actions.invite_person(
        by=cast.olga, roles=[Role.VOLUNTEER], days=14, now=timezone.now()
    ).token
    join = reverse("accounts:join", args=[token])
    page = client.get(join).content.decode()
    assert "Olga invites you to Harbour Lane" in page
    assert f"{SIGN_UP}?next={join}" in page
    form = client.get(SIGN_UP, {"next": join}).content.decode()
    next_of_form = re.search(r'name="next" value="([^"]+)"', form)
    assert next_of_form
    assert sign_up(client, next=next_of_form[1]) == join
    answer = client.post(join, {"hand": "left"})
    assert answer.headers["Location"] == reverse("drives:circle", args=[cast.circle.pk])
    nora = Member.objects.get(user__email="nora@example.org")
    assert (nora.circle, nora.roles, nora.hand) == (cast.circle, {Role.VOLUNTEER}, "left")


def test_next_also_survives_from_the_login_page_to_the_sign_up(db: None, client: Client) -> None:
    page = client.get(SIGN_IN, {"next": "/join/abc/"}).content.decode()
    assert f"{SIGN_UP}?next=%2Fjoin%2Fabc%2F" in page


def test_next_leads_to_no_other_site(db: None, client: Client) -> None:
    assert sign_up(client, next="https://elsewhere.example/") == "/"


def test_a_forgotten_password_is_replaced_by_a_link_that_works_once(
    cast: Cast, client: Client
) -> None:
    client.post("/account/password/reset/", {"email": "vera@example.org"})
    link = re.search(r"http://localhost:8000(/\S+)", str(outbox()[0].body))
    assert link
    form = client.get(link[1])
    done = client.post(
        form.headers["Location"],
        {"password1": "purl-two-together", "password2": "purl-two-together"},
    )
    assert done.headers["Location"] == reverse("account_reset_password_from_key_done")
    answer = client.post(SIGN_IN, {"login": "vera@example.org", "password": "purl-two-together"})
    assert answer.headers["Location"] == "/"
    assert "no longer works" in Client().get(link[1]).content.decode()


def test_who_may_not_sign_in_any_more_does_not(cast: Cast, client: Client) -> None:
    User.objects.filter(pk=cast.stan.pk).update(is_active=False)
    client.post(SIGN_IN, {"login": "stan@example.org", "password": PASSWORD})
    assert client.get(reverse("accounts:me")).status_code == 302


def test_an_address_is_confirmed_by_the_link_that_was_sent_to_it(db: None, client: Client) -> None:
    sign_up(client)
    link = re.search(r"http://localhost:8000(/\S+)", str(outbox()[0].body))
    assert link
    page = client.get(link[1]).content.decode()
    assert "Is this your email address?" in page
    assert "nora@example.org" in page
    client.post(link[1])
    assert EmailAddress.objects.get(email="nora@example.org").verified
    assert "This link no longer works" in Client().get(link[1]).content.decode()
