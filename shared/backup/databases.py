"""A database copied as it was at one moment, and put back: SQLite and PostgreSQL."""

import os
import shutil
import sqlite3
import subprocess
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any, NamedTuple

from django.db import connection, transaction
from psycopg.conninfo import make_conninfo

from .problems import BackupProblem
from .rows import Table, named_files, tables


class Copy(NamedTuple):
    """A copy in ``file``; its tables and the files that its rows name, all of one moment."""

    file: Path
    tables: dict[str, Table]
    files: list[str]


def copy(folder: Path) -> Copy:
    """Copy the site's database into ``folder``, while others write."""
    return _copy_postgresql(folder) if connection.vendor == "postgresql" else _copy_sqlite(folder)


def put_back(file: Path) -> dict[str, Table]:
    """Fill the site's database, which is empty, from such a copy; its tables, read again."""
    if connection.vendor == "postgresql":
        connection.close()
        _run("pg_restore", "--single-transaction", "--exit-on-error", "--no-owner", "--no-acl",
             "--dbname", _address(), str(file))  # fmt: skip
        with transaction.atomic():
            return tables(_read_postgresql, connection.introspection.table_names())
    connection.close()
    live = connection.settings_dict["NAME"]
    with closing(sqlite3.connect(file)) as kept, closing(sqlite3.connect(live)) as fresh:
        kept.backup(fresh)
        return tables(fresh.execute, _sqlite_tables(fresh))


def is_empty() -> bool:
    return not connection.introspection.table_names()


def _copy_sqlite(folder: Path) -> Copy:
    file = folder / "copy.sqlite3"
    live = f"file:{connection.settings_dict['NAME']}?mode=ro"
    with closing(sqlite3.connect(file)) as fresh:
        with closing(sqlite3.connect(live, uri=True, timeout=60)) as running:
            running.backup(fresh)  # in one step, so that all of it is of one moment
        # All of it in the one file.
        fresh.execute("PRAGMA journal_mode=DELETE")
        names = _sqlite_tables(fresh)
        return Copy(file, tables(fresh.execute, names), list(named_files(fresh.execute, names)))


def _sqlite_tables(database: sqlite3.Connection) -> list[str]:
    query = "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%'"
    return [name for (name,) in database.execute(query)]


def _copy_postgresql(folder: Path) -> Copy:
    file = folder / "copy.dump"
    with transaction.atomic():
        with connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ READ ONLY")
            cursor.execute("SELECT pg_export_snapshot()")
            [snapshot] = cursor.fetchone()
        _run("pg_dump", "--format=custom", "--no-owner", "--no-acl", f"--snapshot={snapshot}",
             f"--file={file}", "--dbname", _address())  # fmt: skip
        names = connection.introspection.table_names()
        read = _read_postgresql
        return Copy(file, tables(read, names), list(named_files(read, names)))


def _read_postgresql(query: str) -> Iterator[Any]:
    with connection.chunked_cursor() as cursor:
        cursor.execute(query)
        yield from cursor


def _address() -> str:
    """Without the password, which everybody on this machine could read in the command."""
    database = connection.settings_dict
    given = {
        "dbname": database["NAME"],
        "user": database["USER"],
        "host": database["HOST"],
        "port": database["PORT"],
    }
    known = {name: str(value) for name, value in given.items() if value}
    return make_conninfo("", **known, **database["OPTIONS"])


def _run(program: str, *arguments: str) -> None:
    if shutil.which(program) is None:
        raise BackupProblem(
            f"{program} is not installed. It comes with PostgreSQL’s client "
            "(apt-get install postgresql-client) and must not be older than the server."
        )
    env = os.environ | {"PGPASSWORD": connection.settings_dict["PASSWORD"]}
    done = subprocess.run(
        [program, *arguments], env=env, capture_output=True, text=True, check=False
    )
    if done.returncode:
        raise BackupProblem(f"{program} failed: {done.stderr.strip()}")
