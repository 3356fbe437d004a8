"""Whether the work of a queue stands still: something waits there, and nobody is at it."""

from collections.abc import Iterator
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path

from django.conf import settings
from django.db import DatabaseError
from django.utils import timezone
from django.utils.module_loading import import_string

from shared.workers.lease import believed

WAITED = timedelta(seconds=20)


def standing_still() -> list[str]:
    """The queues whose work stands still.

    Work that waits since a time to come was asked for before a clock was put back: long ago.
    """
    now = timezone.now()

    def waits_long(queue: str) -> bool:
        return not now - WAITED <= _waits_since(queue, now) <= believed(now)

    return [queue for queue in settings.STANDSTILL if waits_long(queue)]


def told() -> Iterator[str]:
    """A sentence for each of these queues, where the database can be asked."""
    with suppress(DatabaseError):
        yield from map(sentence, standing_still())


def sentence(queue: str) -> str:
    return f"Work waits in the queue “{queue}”, and nobody does it."


def _waits_since(queue: str, now: datetime) -> datetime:
    since: datetime | None = import_string(settings.STANDSTILL[queue])(now)
    return since or now


def oldest_message(now: datetime) -> datetime | None:
    """Since when the oldest message for the clock's queue lies there, where it is a file.

    What the clock strikes is quickly done; a Redis does not tell the age of its messages.
    """
    folder = settings.CELERY_BROKER_TRANSPORT_OPTIONS.get("data_folder_in")
    if folder is None:
        return None
    times = []
    for file in Path(folder).glob(f"*.{settings.CLOCK}.msg"):
        try:
            times.append(file.stat().st_mtime)
        except FileNotFoundError:
            continue  # somebody has just taken it
    return datetime.fromtimestamp(min(times), tz=now.tzinfo) if times else None
