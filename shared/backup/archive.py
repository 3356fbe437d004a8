"""The archive: a tar file with the database, the files, the kept secret key, and what is in it."""

import hashlib
import io
import json
import shutil
import tarfile
import tempfile
from collections.abc import Iterable
from datetime import datetime
from pathlib import Path
from typing import IO, Any, NamedTuple

from django.conf import settings
from django.core.files import File
from django.core.files.storage import default_storage as storage
from django.db import connection

from shared.storage.files import FilesAway

from . import databases
from .problems import BackupProblem
from .rows import Table

EDITION = 1
DATABASE = "database"
FILES = "files/"
# It signs printed codes and links in letters; where the environment has it, it is not here.
SECRET = "secret-key"  # noqa: S105
# The last one of the archive: with it, all is there.
CONTENTS = "contents.json"


class Contents(NamedTuple):
    """What an archive holds. ``files`` are checksums by name.

    ``gone``: files that rows named, but that went before they could be read.
    """

    made_at: str
    database: str
    tables: dict[str, Table]
    files: dict[str, str]
    gone: list[str]

    @property
    def rows(self) -> int:
        return sum(table.rows for table in self.tables.values())


def write(file: Path, *, now: datetime) -> Contents:
    """Write the site as it is into ``file``, which is not there yet. Raises BackupProblem."""
    if file.exists():
        raise BackupProblem(f"{file} is there already; a backup is written to a new file.")
    if not file.parent.is_dir():
        raise BackupProblem(f"There is no folder {file.parent}.")
    if databases.is_empty():
        raise BackupProblem("The database has no tables: there is nothing to keep.")
    part = file.with_name(f"{file.name}.part")
    try:
        part.touch(mode=0o600)
        with tempfile.TemporaryDirectory(dir=file.parent, prefix=".backup-") as folder:
            contents = _write(part, Path(folder), now)
        part.replace(file)
    except FilesAway as problem:
        raise _said(problem) from problem
    finally:
        part.unlink(missing_ok=True)
    return contents


def _write(part: Path, folder: Path, now: datetime) -> Contents:
    copy = databases.copy(folder)
    with tarfile.open(part, "w", format=tarfile.PAX_FORMAT) as tar:
        tar.add(copy.file, DATABASE)
        secret = settings.DATA_DIR / SECRET
        if secret.exists():
            tar.add(secret, SECRET)
        files, gone = _add_files(tar, copy.files)
        made = Contents(now.isoformat(), connection.vendor, copy.tables, files, gone)
        told = json.dumps(made._asdict() | {"edition": EDITION}).encode()
        _add(tar, CONTENTS, io.BytesIO(told), len(told))
    return made


def _add_files(tar: tarfile.TarFile, names: Iterable[str]) -> tuple[dict[str, str], list[str]]:
    files: dict[str, str] = {}
    gone = []
    for name in names:
        try:
            with storage.open(name) as stored, tempfile.TemporaryFile() as kept:
                shutil.copyfileobj(stored, kept)
                kept.seek(0)
                files[name] = _checksum(kept)
                size = kept.tell()
                kept.seek(0)
                _add(tar, FILES + name, kept, size)
        except FileNotFoundError:
            gone.append(name)
    return files, gone


def _said(problem: FilesAway) -> BackupProblem:
    return BackupProblem(f"The place where documents are kept fails: {str(problem).rstrip('.')}.")


def _add(tar: tarfile.TarFile, name: str, content: IO[bytes], size: int) -> None:
    member = tarfile.TarInfo(name)
    member.size, member.mode = size, 0o600
    tar.addfile(member, content)


class Kept:
    """The members of an archive."""

    def __init__(self, tar: tarfile.TarFile) -> None:
        self._tar = tar
        self.members = {member.name: member for member in tar}

    def read(self, name: str) -> IO[bytes]:
        member = self.members.get(name)
        content = self._tar.extractfile(member) if member else None
        if content is None:
            raise tarfile.TarError(f"it has no {name}")
        return content


def restore(file: Path) -> Contents:
    """Fill the site, which must be empty, from ``file``, and compare every row with what was kept.

    Raises BackupProblem, before anything is written or when what was written is not the same.
    """
    try:
        _refuse_unless_empty()
        with tarfile.open(file, "r:") as tar:
            kept = Kept(tar)
            contents = _contents(kept)
            _restore(kept, contents)
    except FilesAway as problem:
        raise _said(problem) from problem
    except FileNotFoundError as problem:
        raise BackupProblem(f"There is no file {file}.") from problem
    except tarfile.TarError as problem:
        raise BackupProblem(f"{file} is no backup, or not all of one: {problem}.") from problem
    return contents


def _refuse_unless_empty() -> None:
    if not databases.is_empty():
        raise BackupProblem(
            "The database is not empty. A backup is restored into an empty place only: a new data "
            "folder (MITREWISE_DATA), or a new database (MITREWISE_DATABASE_URL)."
        )
    if (name := _any_file("")) is not None:
        raise BackupProblem(
            f"The storage is not empty: it has {name}. A backup is restored into an empty place "
            "only: a new data folder (MITREWISE_DATA), or a new bucket."
        )


def _any_file(folder: str) -> str | None:
    try:
        folders, files = storage.listdir(folder)
    except FileNotFoundError:
        return None
    inside = [f"{folder}/{each}" if folder else each for each in folders]
    if files:
        return f"{folder}/{files[0]}" if folder else files[0]
    return next((found for each in inside if (found := _any_file(each))), None)


def _contents(kept: Kept) -> Contents:
    told: dict[str, Any] = json.loads(kept.read(CONTENTS).read())
    if told.pop("edition") != EDITION:
        raise BackupProblem("The backup was made by another edition of Mitrewise; use that one.")
    told["tables"] = {name: Table(*table) for name, table in told["tables"].items()}
    contents = Contents(**told)
    if contents.database != connection.vendor:
        raise BackupProblem(
            f"The backup is of a {contents.database} database, and this site is set to "
            f"{connection.vendor} (MITREWISE_DATABASE_URL)."
        )
    return contents


def _restore(kept: Kept, contents: Contents) -> None:
    for name, checksum in contents.files.items():
        content = kept.read(FILES + name)
        if _checksum(content) != checksum:
            raise BackupProblem(f"The file {name} is damaged in the backup.")
        content.seek(0)
        if storage.save(name, File(content)) != name:
            raise BackupProblem(f"The storage did not keep {name} under its name.")
    if SECRET in kept.members:
        secret = settings.DATA_DIR / SECRET
        secret.touch(mode=0o600)
        secret.write_bytes(kept.read(SECRET).read())
    with tempfile.TemporaryDirectory(dir=settings.DATA_DIR, prefix=".restore-") as folder:
        copy = Path(folder) / DATABASE
        with copy.open("wb") as written:
            shutil.copyfileobj(kept.read(DATABASE), written)
        there = databases.put_back(copy)
    differ = [
        name
        for name in sorted(contents.tables.keys() | there.keys())
        if contents.tables.get(name) != there.get(name)
    ]
    if differ:
        raise BackupProblem(f"These tables are not as they were kept: {', '.join(differ)}.")


def _checksum(content: Any) -> str:
    """Of all that is left to read of it."""
    return hashlib.file_digest(content, "sha256").hexdigest()
