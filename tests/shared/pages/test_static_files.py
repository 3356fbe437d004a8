"""Each host keeps its own copy of the static files, so there should be few."""

from pathlib import Path

import pytest
from django.contrib.staticfiles.storage import staticfiles_storage
from django.core.management import call_command
from django.test import Client
from pytest_django import Settings

MIB = 1024 * 1024


@pytest.fixture
def collected(settings: Settings, tmp_path: Path) -> Path:
    settings.STATIC_ROOT = tmp_path
    settings.STORAGES = {
        **settings.STORAGES,
        "staticfiles": {"BACKEND": "shared.pages.static_files.Hashed"},
    }
    call_command("collectstatic", interactive=False, verbosity=0)
    return tmp_path


@pytest.mark.django_db
def test_what_is_collected_is_little_and_enough(collected: Path, client: Client) -> None:
    sizes = [file.stat().st_size for file in collected.rglob("*") if file.is_file()]
    assert sum(sizes) < 8 * MIB  # 37 before

    for page in ("/", "/account/login/", "/api/v1/docs/", "/nothing-here/"):
        text = client.get(page).content.decode()
        for part in text.split('"'):
            if part.startswith("/static/"):
                assert (collected / part.removeprefix("/static/")).is_file(), part
    assert staticfiles_storage.url("mitrewise/site.css") != "/static/mitrewise/site.css"
