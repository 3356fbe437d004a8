"""Backups of a site that is at work, restored into an empty place, which compares every row."""

import json
import tarfile
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.core.management import CommandError, call_command
from django.db import connection, connections

from drives.models import Sheet, Status
from shared import backup
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW, Desk

from .conftest import EmptyPlace

pytestmark = pytest.mark.django_db(transaction=True)

ROUNDS = 3  # of backups under load


@pytest.fixture(autouse=True)
def _files_of_this_test(own_files: None) -> None:
    pass


def make_document(desk: Desk, cast: Cast, name: str, fingerprint: str) -> str:
    kept = default_storage.save(name, ContentFile(b"drawn for " + fingerprint.encode()))
    Sheet.objects.create(
        blanket=desk.blanket, kind="status", fingerprint=fingerprint, status=Status.DONE,
        progress=100, file=kept, requested_by=cast.olga, requested_at=NOW, finished_at=NOW,
    )  # fmt: skip
    return kept


def contents(file: Path) -> dict[str, object]:
    with tarfile.open(file) as tar:
        told = tar.extractfile("contents.json")
        assert told is not None
        return dict(json.load(told))


def test_rows_and_files_come_back(
    desk: Desk, cast: Cast, place: EmptyPlace, tmp_path: Path
) -> None:
    desk.claim("A1", cast.vera)
    desk.finish("A1", cast.vera)
    make_document(desk, cast, "sheets/one.svg", "one")
    file = tmp_path / "kept.tar"

    kept = backup.write(file, now=NOW)
    said = place.restore(file)

    assert kept.tables["drives_square"].rows == 4
    assert f"{kept.rows} rows of {len(kept.tables)} tables and 1 files are as they were" in said
    assert said.rstrip().endswith("The audit has nothing to say.")
    assert (place.data / "files/sheets/one.svg").read_bytes() == b"drawn for one"
    assert file.stat().st_mode & 0o777 == 0o600


def test_a_file_that_went_meanwhile_is_said(
    desk: Desk, cast: Cast, place: EmptyPlace, tmp_path: Path
) -> None:
    default_storage.delete(make_document(desk, cast, "sheets/gone.svg", "gone"))
    file = tmp_path / "kept.tar"

    assert backup.write(file, now=NOW).gone == ["sheets/gone.svg"]
    said = place.restore(file)

    assert "1 files had gone before they could be read" in said
    assert said.rstrip().endswith("The audit has nothing to say.")


@contextmanager
def at_work(desk: Desk, cast: Cast) -> Iterator[list[int]]:
    """Somebody takes squares and gives them back, and a document is made each time."""
    over = threading.Event()
    rounds: list[int] = []

    def work() -> None:
        try:
            while not over.is_set():
                desk.claim("A1", cast.vera)
                make_document(desk, cast, f"sheets/{len(rounds)}.svg", str(len(rounds)))
                desk.give_back("A1", cast.vera)
                rounds.append(len(rounds))
        finally:
            connections.close_all()

    thread = threading.Thread(target=work)
    thread.start()
    try:
        yield rounds
    finally:
        over.set()
        thread.join()


def test_it_is_of_one_moment_while_others_write(
    plan: Plan, cast: Cast, place: EmptyPlace, tmp_path: Path
) -> None:
    desk = plan(1, 1)
    with at_work(desk, cast) as rounds:
        for number in range(ROUNDS):
            before = len(rounds)
            while len(rounds) < before + 3:
                threading.Event().wait(0.01)
            kept = backup.write(tmp_path / f"{number}.tar", now=NOW)
            # What a document names was stored before its row.
            assert kept.gone == []
            assert kept.tables["drives_sheet"].rows == len(kept.files) >= before

    said = place.restore(tmp_path / f"{ROUNDS - 1}.tar")

    assert said.rstrip().endswith("The audit has nothing to say.")


def test_only_an_empty_place_is_filled(desk: Desk, place: EmptyPlace, tmp_path: Path) -> None:
    file = tmp_path / "kept.tar"
    backup.write(file, now=NOW)
    with pytest.raises(backup.BackupProblem, match="The database is not empty"):
        backup.restore(file)
    (place.data / "files" / "sheets").mkdir(parents=True)
    (place.data / "files" / "sheets" / "old.pdf").touch()

    assert "The storage is not empty: it has sheets/old.pdf." in place.restore(file)


def test_half_a_backup_is_none(desk: Desk, place: EmptyPlace, tmp_path: Path) -> None:
    file, half = tmp_path / "kept.tar", tmp_path / "half.tar"
    backup.write(file, now=NOW)
    half.write_bytes(file.read_bytes()[: file.stat().st_size // 2])

    assert "is no backup, or not all of one" in place.restore(half)
    assert "There is no file" in place.restore(tmp_path / "nowhere.tar")
    assert "The audit has nothing to say." in place.restore(file)


def test_a_row_that_differs_is_found(desk: Desk, place: EmptyPlace, tmp_path: Path) -> None:
    file, other = tmp_path / "kept.tar", tmp_path / "other.tar"
    backup.write(file, now=NOW)
    told = contents(file)
    told["tables"]["drives_square"][1] = "0" * 64  # type: ignore[index]
    swap_contents(file, other, told)

    assert "These tables are not as they were kept: drives_square." in place.restore(other)


def test_another_kind_of_database_is_refused(desk: Desk, place: EmptyPlace, tmp_path: Path) -> None:
    file, other = tmp_path / "kept.tar", tmp_path / "other.tar"
    backup.write(file, now=NOW)
    swap_contents(file, other, contents(file) | {"database": "oracle"})

    assert f"is set to {connection.vendor} (MITREWISE_DATABASE_URL)" in place.restore(other)


def swap_contents(file: Path, other: Path, told: dict[str, object]) -> None:
    changed = other.with_suffix(".json")
    changed.write_text(json.dumps(told))
    with tarfile.open(file) as old, tarfile.open(other, "w") as new:
        for member in old:
            if member.name == "contents.json":
                new.add(changed, member.name)
            else:
                new.addfile(member, old.extractfile(member))


def test_nothing_is_written_over(desk: Desk, tmp_path: Path) -> None:
    file = tmp_path / "kept.tar"
    file.write_text("something dear")

    with pytest.raises(CommandError, match="is there already"):
        call_command("backup", str(file))

    assert file.read_text() == "something dear"
    assert list(tmp_path.glob("*.part")) == []
