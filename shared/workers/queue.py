"""Telling the workers that there is something to do. A message carries only the id of a row."""

from functools import cache
from typing import Any

from celery import Task, current_app
from django.conf import settings
from django.db import transaction
from redis import Redis
from redis.backoff import NoBackoff
from redis.retry import Retry

from shared.basics.circuit import Circuit
from shared.storage.cache import ANSWERS_WITHIN_SECONDS

# Of a sweep, so that messages do not pile up while workers are away or busy: for how long one is
# good, and how many it sends.
MESSAGE_SECONDS, MOST_AT_ONCE = 60, 100

circuit = Circuit("queue")
"""Of this process."""


def tell_workers(task: str, *, queue: str | None = None, **ids: int) -> None:
    """Have ``task``, by its name, done once this transaction is committed.

    A queue that is down undoes nothing that is stored and holds nobody up: the work waits in its
    row, and the sweep of its kind finds it there. Without ``queue`` it goes where the settings
    route it.
    """
    transaction.on_commit(lambda: _send(task, queue, ids), robust=True)


def tell_again(task: "Task[..., None]", **ids: int) -> None:
    """For a sweep: its rows are stored, and it comes again."""
    task.apply_async(kwargs=ids, expires=MESSAGE_SECONDS)


def _send(task: str, queue: str | None, ids: dict[str, int]) -> None:
    where: dict[str, Any] = {"queue": queue} if queue else {}

    def send() -> None:
        # Celery's own patience is that of its workers, who wait for messages: too long for a page.
        if not settings.CELERY_BROKER_URL.startswith("filesystem:"):
            _redis(settings.CELERY_BROKER_URL).ping()
        current_app.send_task(task, kwargs=ids, retry=False, **where)

    circuit.call(send, otherwise=lambda: None)


@cache
def _redis(url: str) -> Redis:
    """What answers soon, or raises."""
    return Redis.from_url(
        url,
        socket_timeout=ANSWERS_WITHIN_SECONDS,
        socket_connect_timeout=ANSWERS_WITHIN_SECONDS,
        retry=Retry(NoBackoff(), 0),
    )
