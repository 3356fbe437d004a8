"""What can be looked at in some milliseconds, again and again."""

import os
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import redis
from django.conf import settings
from django.contrib.staticfiles.storage import staticfiles_storage
from django.core.files.storage import FileSystemStorage, default_storage
from django.db import DatabaseError, connection
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.recorder import MigrationRecorder

from shared.storage.files import FilesAway


def database() -> Iterator[str]:
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
    except DatabaseError:
        yield (
            "The database does not answer. Start it, or correct MITREWISE_DATABASE_URL "
            "(or MITREWISE_DATA, where it is SQLite)."
        )


def migrations() -> Iterator[str]:
    try:
        applied = MigrationRecorder(connection).applied_migrations()
    except DatabaseError:
        yield "As long as the database does not answer, nobody knows which migrations were applied."
        return
    if _known_migrations() - applied.keys():
        yield "The database lacks tables or columns. Run: ./dev manage migrate"


@cache
def _known_migrations() -> frozenset[tuple[str, str]]:
    return frozenset(MigrationLoader(None).disk_migrations)


def static_files() -> Iterator[str]:
    # As this process found them when it started.
    known = getattr(staticfiles_storage, "hashed_files", None)
    if known is not None and not known:
        yield (
            "The static files are not collected. Run ./dev manage collectstatic --no-input, "
            "and start the site again."
        )


def queue() -> Iterator[str]:
    broker: str = settings.CELERY_BROKER_URL
    if broker.startswith("filesystem:"):
        folder = Path(settings.CELERY_BROKER_TRANSPORT_OPTIONS["data_folder_in"])
        if not folder.is_dir():
            yield "The queue's folder is missing. Starting the site again makes it."
        return
    try:
        with redis.Redis.from_url(broker, socket_timeout=2, socket_connect_timeout=2) as client:
            client.set("mitrewise:ready", "", ex=1)
    except redis.OutOfMemoryError:
        yield "Redis is full: nothing can be queued. Give it more memory (maxmemory)."
    except redis.RedisError:
        yield "Redis does not answer. Start it, or correct MITREWISE_REDIS_URL."


def files() -> Iterator[str]:
    """Whether documents can be kept: a folder is looked at, and a bucket asked."""
    if isinstance(default_storage, FileSystemStorage):
        folder = Path(default_storage.location)
        there = folder if folder.exists() else folder.parent
        if not os.access(there, os.W_OK | os.X_OK):
            yield f"Files cannot be written to {folder}. Make the site's user its owner."
        return
    try:
        default_storage.exists("whatever")
    except FilesAway as problem:
        yield (
            f"The storage of files fails: {str(problem).rstrip('.')}. Correct "
            "MITREWISE_STORAGE_URL, or wait for it."
        )
