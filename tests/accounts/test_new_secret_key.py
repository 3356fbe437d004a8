"""The secret key can be changed without signing anybody out."""

from django.core import signing
from django.test import Client
from pytest_django import Settings

from tests.accounts.test_pages import sign_in
from tests.cast import Cast


def test_who_is_signed_in_stays_so_while_the_old_key_is_known(
    cast: Cast, client: Client, settings: Settings
) -> None:
    old = settings.SECRET_KEY
    sign_in(client, cast.olga)
    signed = signing.dumps("a link")
    settings.SECRET_KEY, settings.SECRET_KEY_FALLBACKS = "n" * 50, [old]
    assert client.get("/me/").status_code == 200
    assert signing.loads(signed) == "a link"
    settings.SECRET_KEY_FALLBACKS = []
    assert client.get("/me/").status_code == 200  # signed anew meanwhile, with the new key


def test_without_it_they_must_sign_in_again(cast: Cast, client: Client, settings: Settings) -> None:
    sign_in(client, cast.olga)
    settings.SECRET_KEY = "n" * 50
    assert client.get("/me/").status_code == 302
