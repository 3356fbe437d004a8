"""Bodies and ids of any size are answered, and nothing large lies on the disk."""

import tempfile
from datetime import date
from math import inf
from pathlib import Path

import pytest
from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client

from drives.sheets.chances import day
from drives.sheets.press import FETCHER
from shared.pages.forms import DateField
from tests.cast import Cast


@pytest.mark.django_db
def test_a_large_upload_is_refused_before_it_lies_on_the_disk(
    client: Client, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tempfile, "NamedTemporaryFile", None)  # which would fail the request
    file = SimpleUploadedFile("x.csv", b"x" * 3_000_000)

    assert client.post("/account/login/", {"file": file}).status_code == 413


@pytest.mark.django_db
@pytest.mark.parametrize("number", ["9" * 19, "9" * 40, "9" * 4300])
@pytest.mark.parametrize("path", ["/circles/{}/", "/api/v1/circles/{}/members/"])
def test_an_id_beyond_all_tables_is_that_of_nothing(cast: Cast, path: str, number: str) -> None:
    client = Client()
    assert cast.olga.user
    client.force_login(cast.olga.user)

    answer = client.get(path.format(number))

    assert answer.status_code == 404
    assert ("problem" in answer.headers["Content-Type"]) == path.startswith("/api/")


@pytest.mark.parametrize("told", ["0001-01-01", "1899-12-31", "2200-01-01", "9999-12-31"])
def test_no_day_at_the_ends_of_time(told: str) -> None:
    with pytest.raises(ValidationError, match="looks wrong"):
        DateField().clean(told)


def test_a_forecast_beyond_all_dates_is_never() -> None:
    today = date(2026, 11, 2)
    assert day(today, inf) is None
    assert day(today, 1e9) is None
    assert day(today, 1.5) == "2026-11-03"


@pytest.mark.parametrize(
    "url",
    [
        "file:///etc/passwd",
        f"{settings.FONTS_DIR.as_uri()}/../../x",
        f"{settings.FONTS_DIR.as_uri()}/%2e%2e/%2e%2e/x",
        "https://blankets.example/",
        "data:text/plain,x",
    ],
)
def test_documents_read_nothing_but_their_fonts(url: str) -> None:
    with pytest.raises(ValueError, match="nothing but its fonts"):
        FETCHER.fetch(url)
