"""The page on privacy tells what the tasks keep to."""

import pytest
from django.test import Client
from pytest_django import Settings

from shared.configuration.kept import TABLE, kept
from tests.accounts.test_pages import told

pytestmark = pytest.mark.django_db


def test_it_is_made_from_the_table(client: Client, settings: Settings) -> None:
    settings.KEPT = kept("letters=17")
    page = told(client.get("/privacy/"))
    for name, row in TABLE.items():
        days = 17 if name == "letters" else row.days
        assert f"{row.what} {days}" in page
    assert "have stayed away for 14 days" in page


def test_every_page_leads_to_it_and_it_tells_who_runs_the_site(
    client: Client, settings: Settings
) -> None:
    assert 'href="/privacy/"' in client.get("/").content.decode()
    settings.OPERATOR = "Fern Bay Knitters, hello@example.org"
    assert "run by Fern Bay Knitters, hello@example.org" in told(client.get("/privacy/"))
