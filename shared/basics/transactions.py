"""The one way to open a transaction that writes."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager

from django.db import connection, transaction

# Re-entrant, because what runs on commit still holds it and may write again.
_one_writer = threading.RLock()


@contextmanager
def writing() -> Iterator[None]:
    """One atomic transaction around a write; inside another one, a savepoint.

    SQLite has one writer at a time and makes the others poll for their turn. The threads of a
    process therefore queue here, which is fair and wakes the next one at once. Only the outermost
    transaction may wait: an inner one would wait while it keeps the database locked.
    """
    if connection.vendor == "sqlite" and not connection.in_atomic_block:
        with _one_writer, transaction.atomic():
            yield
    else:
        with transaction.atomic():
            yield
