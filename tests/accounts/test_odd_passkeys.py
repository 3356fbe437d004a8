"""What a browser sends as a passkey's answer may be anything."""

import json
from collections.abc import Callable

import pytest
from django.core.cache import cache
from django.test import Client

from tests.cast import Cast, enter

from .test_second_step import give_password, set_up

ODD = [10**30, True, "x", [], [1], {}, {"id": 5}, {"id": "x", "response": 5}, {"response": {}}]

Asked = tuple[Client, str]


@pytest.fixture(autouse=True)
def _no_one_has_tried_before() -> None:
    cache.clear()


def signing_in(_cast: Cast) -> Asked:
    return Client(), "/account/2fa/webauthn/login/"


def second_step(cast: Cast) -> Asked:
    set_up(cast.olga)
    return give_password(cast.olga)


def asked_again(cast: Cast) -> Asked:
    client, _secret = set_up(cast.olga)
    return client, "/account/2fa/webauthn/reauthenticate/"


def adding(cast: Cast) -> Asked:
    client = Client()
    assert cast.olga.user
    enter(client, cast.olga.user)
    return client, "/account/2fa/webauthn/add/"


@pytest.mark.parametrize("sent", ODD, ids=str)
@pytest.mark.parametrize("asks", [signing_in, second_step, asked_again, adding])
def test_what_is_no_answer_is_refused(
    cast: Cast, asks: Callable[[Cast], Asked], sent: object
) -> None:
    client, address = asks(cast)
    client.get(address)

    answer = client.post(address, {"credential": json.dumps(sent), "name": "mine"})

    assert answer.status_code < 500
    # Where a form has refused, the page that asked is shown again.
    assert answer.headers.get("Location") in (None, "/account/login/", "/account/reauthenticate/")


@pytest.mark.parametrize("asks", [signing_in, second_step, asked_again, adding])
def test_a_number_that_is_too_long_to_be_read_is_refused(
    cast: Cast, asks: Callable[[Cast], Asked]
) -> None:
    client, address = asks(cast)
    client.get(address)

    answer = client.post(address, {"credential": "9" * 5000, "name": "mine"})

    assert answer.status_code < 500
