"""Backups of a site whose files lie in a bucket, restored into another one."""

from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from django.core.files.storage import default_storage
from pytest_django import Settings

from drives.models import Sheet
from shared import backup
from shared.configuration import parts
from tests.cast import Cast
from tests.desk import NOW, Desk
from tests.services import make_bucket, object_storage

from .conftest import EmptyPlace
from .test_backup import make_document

pytestmark = pytest.mark.django_db(transaction=True)

CONTENT = b"drawn for one"


@pytest.fixture
def bucket(settings: Settings) -> Iterator[str]:
    """Where this site keeps its files."""
    with object_storage() as url:
        keep_in(url, settings)
        yield url


def keep_in(url: str, settings: Settings) -> None:
    settings.STORAGES = {**settings.STORAGES, "default": parts.files(urlsplit(url))}


def read(name: str) -> bytes:
    with default_storage.open(name) as file:
        return bytes(file.read())


def test_files_move_from_bucket_to_bucket(
    desk: Desk, cast: Cast, place: EmptyPlace, bucket: str, settings: Settings, tmp_path: Path
) -> None:
    name = make_document(desk, cast, "sheets/one.svg", "one")
    file = tmp_path / "kept.tar"
    other = place.env["MITREWISE_STORAGE_URL"] = make_bucket(f"{bucket}-again")

    kept = backup.write(file, now=NOW)
    said = place.restore(file)

    assert list(kept.files) == [name]
    assert "and 1 files are as they were" in said
    assert said.rstrip().endswith("The audit has nothing to say.")
    assert not (place.data / "files").exists()
    keep_in(other, settings)
    assert read(name) == CONTENT


def test_files_move_from_a_bucket_into_a_folder(
    desk: Desk, cast: Cast, place: EmptyPlace, bucket: str, tmp_path: Path
) -> None:
    make_document(desk, cast, "sheets/one.svg", "one")
    file = tmp_path / "kept.tar"

    backup.write(file, now=NOW)

    assert "The audit has nothing to say." in place.restore(file)
    assert (place.data / "files/sheets/one.svg").read_bytes() == CONTENT


def test_a_bucket_that_is_not_there_is_no_backup_without_files(
    desk: Desk, cast: Cast, bucket: str, settings: Settings, tmp_path: Path
) -> None:
    make_document(desk, cast, "sheets/one.svg", "one")
    keep_in(f"{bucket}-mistyped", settings)
    file = tmp_path / "kept.tar"

    with pytest.raises(backup.BackupProblem, match="There is no bucket “blankets-mistyped” at"):
        backup.write(file, now=NOW)

    assert not file.exists()


def test_only_a_bucket_that_is_there_and_empty_is_filled(
    desk: Desk, cast: Cast, place: EmptyPlace, bucket: str, settings: Settings, tmp_path: Path
) -> None:
    make_document(desk, cast, "sheets/one.svg", "one")
    file = tmp_path / "kept.tar"
    backup.write(file, now=NOW)

    place.env["MITREWISE_STORAGE_URL"] = f"{bucket}-mistyped"
    assert "The place where documents are kept fails:" in place.restore(file)
    place.env["MITREWISE_STORAGE_URL"] = bucket
    assert "The storage is not empty: it has sheets/one.svg." in place.restore(file)
    assert read(Sheet.objects.get().file.name or "") == CONTENT
