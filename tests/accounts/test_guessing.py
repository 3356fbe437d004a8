"""Guesses at one password from many networks: held for the day, and its owner still comes in."""

from collections.abc import Iterator
from itertools import count

import pytest
from django.conf import settings
from django.core.cache import cache
from django.test import Client, override_settings

from accounts.models import SecurityEvent, SecurityKind
from tests.accounts.test_new_password import NEW, reset
from tests.cast import PASSWORD, Cast

networks = count(1)


@pytest.fixture(autouse=True)
def _three_guesses_a_day() -> Iterator[None]:
    cache.clear()
    with override_settings(LIMITS=settings.LIMITS | {"guesses": {"guesser": "3/day"}}):
        yield


def comes_in(client: Client, password: str = PASSWORD, **more: str) -> bool:
    """Whether Vera does, from a network where nobody has tried before."""
    sent = {"login": "Vera@example.org", "password": password, **more}
    answer = client.post("/account/login/", sent, REMOTE_ADDR=f"192.0.2.{next(networks)}")
    return answer.status_code == 302


def guess(client: Client | None = None) -> None:
    """More often than one may, each time from another network."""
    for number in range(4):
        assert not comes_in(client or Client(), f"guess {number}")


def known_browser(**more: str) -> Client:
    """Vera has been signed in there."""
    client = Client()
    assert comes_in(client, **more)
    client.post("/account/logout/")
    return client


def test_who_guesses_from_everywhere_is_kept_out_and_it_is_noted(cast: Cast) -> None:
    guess()
    assert not comes_in(Client())
    locked = SecurityEvent.objects.filter(kind=SecurityKind.SIGN_IN_LOCKED)
    assert [event.about for event in locked] == [cast.vera.user] * 2


def test_the_owner_comes_in_where_they_were_before(cast: Cast) -> None:
    home = known_browser()
    guess()
    assert comes_in(home)


def test_where_the_owner_was_before_one_guesses_no_more_often(cast: Cast) -> None:
    stolen = known_browser()
    guess(stolen)
    assert not comes_in(stolen)


def test_a_browser_is_known_for_one_person(cast: Cast) -> None:
    home = known_browser()
    sent = {"login": "cora@example.org", "password": "guess"}
    for _ in range(3):
        home.post("/account/login/", sent, REMOTE_ADDR=f"192.0.2.{next(networks)}")
    answer = Client().post(
        "/account/login/", sent | {"password": PASSWORD}, REMOTE_ADDR="198.51.100.1"
    )
    assert answer.status_code == 200


def test_a_computer_that_others_use_is_not_known(cast: Cast) -> None:
    assert "known" not in known_browser(shared="on").cookies


def test_a_forged_mark_makes_no_browser_known(cast: Cast) -> None:
    forged = Client()
    forged.cookies["known"] = known_browser().cookies["known"].value[:-1] + "!"
    guess()
    assert not comes_in(forged)


def test_a_new_password_by_mail_lets_the_owner_in_everywhere(cast: Cast) -> None:
    assert cast.vera.user
    guess()
    reset(Client(), cast.vera.user)
    assert comes_in(Client(), NEW)
