"""The page of one's e-mail address, for addresses that are proven and for those that are not."""

import re

import pytest
from allauth.account.models import EmailAddress
from django.test import Client
from pytest_django import Settings

from accounts.models import User
from tests.cast import enter, login
from tests.postman import outbox

PAGE = "/account/email/"


@pytest.fixture(params=[True, False], ids=["proven", "unproven"])
def nora(request: pytest.FixtureRequest, db: None, client: Client) -> User:
    """Nora is signed in."""
    nora = login("Nora")
    EmailAddress.objects.update_or_create(
        user=nora, email=nora.email, defaults={"primary": True, "verified": request.param}
    )
    enter(client, nora)
    return nora


def link() -> str:
    """What the last e-mail leads to."""
    found = re.search(r"http://localhost:8000(/\S+)", str(outbox()[-1].body))
    assert found
    return found[1]


def change(client: Client, email: str = "nora@example.net") -> None:
    answer = client.post(PAGE, {"email": email, "action_add": ""})
    assert answer.headers["Location"] == PAGE


def addresses(user: User) -> list[str]:
    user.refresh_from_db()
    return [user.email, *EmailAddress.objects.filter(user=user).values_list("email", flat=True)]


def test_the_page_names_the_address(nora: User, client: Client) -> None:
    assert "nora@example.org" in client.get(PAGE).content.decode()


def test_an_address_changes_once_it_is_proven(nora: User, client: Client) -> None:
    change(client)
    page = client.get(PAGE).content.decode()
    assert "nora@example.org" in page
    assert "nora@example.net" in page
    assert addresses(nora)[0] == "nora@example.org"
    client.post(link())
    assert addresses(nora) == ["nora@example.net", "nora@example.net"]


def test_an_address_that_is_not_wanted_any_more_is_forgotten(nora: User, client: Client) -> None:
    change(client)
    client.post(PAGE, {"email": "nora@example.net", "action_remove": ""})
    assert addresses(nora) == ["nora@example.org", "nora@example.org"]


def test_nobody_is_left_without_an_address(nora: User, client: Client) -> None:
    change(client)
    client.post(PAGE, {"email": "nora@example.org", "action_remove": ""})
    assert "nora@example.org" in addresses(nora)[1:]


def test_two_who_mistyped_their_addresses_can_both_correct_them(db: None) -> None:
    for name in ("Nora", "Ned"):
        user, client = login(name), Client()
        EmailAddress.objects.filter(user=user).delete()
        enter(client, user)
        change(client, f"{name}@example.net")
        client.post(link())
        assert addresses(user) == [f"{name}@example.net".lower()] * 2


@pytest.mark.postgres
def test_they_can_on_postgresql_too(db: None) -> None:
    test_two_who_mistyped_their_addresses_can_both_correct_them(None)


def test_an_address_that_somebody_signs_in_with_becomes_nobody_elses(
    nora: User, client: Client
) -> None:
    change(client)
    User.objects.create_user(email="nora@example.net", name="Another")
    client.post(link())
    assert addresses(nora)[0] == "nora@example.org"


@pytest.mark.parametrize("path", [PAGE, "/account/password/reset/"])
def test_links_lead_to_the_site_whoever_asks(
    nora: User, client: Client, settings: Settings, path: str
) -> None:
    settings.SITE_URL = "https://circle.example"
    email = "nora@example.net" if path == PAGE else nora.email
    if path != PAGE:
        client.logout()
    client.post(path, {"email": email, "action_add": ""}, headers={"host": "localhost:6666"})
    body = str(outbox()[0].body)
    assert "https://circle.example/account/" in body
    assert "6666" not in body
