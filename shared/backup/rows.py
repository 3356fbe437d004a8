"""What is in a database: its tables, a checksum of all their rows, and the files that they name."""

import hashlib
from collections.abc import Callable, Iterable, Iterator
from typing import Any, NamedTuple

from django.apps import apps
from django.db.models import FileField

# The rows that a query finds, one after the other.
Read = Callable[[str], Iterable[Any]]


class Table(NamedTuple):
    """How many rows a table has, and the sum of their checksums: in any order the same."""

    rows: int
    checksum: str


def tables(read: Read, names: Iterable[str]) -> dict[str, Table]:
    return {name: _table(read, name) for name in sorted(names)}


def _table(read: Read, name: str) -> Table:
    rows = total = 0
    for row in read(f'SELECT * FROM "{name}"'):  # noqa: S608
        rows += 1
        total += int.from_bytes(hashlib.sha256(repr(tuple(row)).encode()).digest(), "big")
    return Table(rows, f"{total % (1 << 256):064x}")


def named_files(read: Read, names: Iterable[str]) -> Iterator[str]:
    """The names of the files that the rows of these tables name."""
    there = set(names)
    for model in apps.get_models():
        table = model._meta.db_table
        for field in model._meta.local_fields:
            if isinstance(field, FileField) and table in there:
                column = field.column
                query = f'SELECT "{column}" FROM "{table}" WHERE "{column}" <> \'\''  # noqa: S608
                yield from (name for (name,) in read(query))
