"""The life of the rows of e-mails until they are sent.

Of many workers who try one has a row; it names the attempt at every later step, so that one who
was thought dead changes nothing any more.
"""

from datetime import datetime
from typing import Any

from django.db.models import F, QuerySet

from accounts.models import Posted
from accounts.models.posted import LEASE, MOST_ATTEMPTS, wait_after
from shared.basics.transactions import writing


def take_post(*, row: Posted, now: datetime) -> bool:
    """Whether it is in our hands now, to be sent."""
    with writing():
        free = _all(row).to_send(now).filter(pk=row.pk)
        taken = free.filter(attempt__lt=MOST_ATTEMPTS).update(
            taken_at=now, lease_until=now + LEASE, attempt=F("attempt") + 1
        )
        if taken:
            row.refresh_from_db(fields=["attempt", "unclear_at"])
        else:  # the worker died each time, and each time it may have been sent
            free.update(taken_at=now, dropped_at=now, unclear_at=now)
    return bool(taken)


def keep_post(*, row: Posted, now: datetime) -> None:
    """We are still busy with it."""
    with writing():
        _ours(row).update(lease_until=now + LEASE)


def note_post_sent(*, row: Posted, now: datetime) -> None:
    """The mail server has accepted it."""
    with writing():
        _ours(row).update(sent_at=now)


def put_back_post(*, row: Posted, now: datetime) -> None:
    """Try it again later: the mail server cannot have accepted it.

    It is dropped if that was tried often enough.
    """
    with writing():
        if row.attempt >= MOST_ATTEMPTS:
            _ours(row).update(dropped_at=now)
        else:
            _ours(row).update(taken_at=None, not_before=now + wait_after(row.attempt))


def note_post_unclear(*, row: Posted, now: datetime) -> None:
    """The mail server may have accepted it or not: it is sent once more, but not twice."""
    with writing():
        if row.unclear_at is None and row.attempt < MOST_ATTEMPTS:
            _ours(row).update(
                unclear_at=now, taken_at=None, not_before=now + wait_after(row.attempt)
            )
        else:
            _ours(row).update(unclear_at=now, dropped_at=now)


def drop_post(*, row: Posted, now: datetime) -> None:
    """It has nothing to say any more, or nowhere to go."""
    with writing():
        _ours(row).update(dropped_at=now)


def _all(row: Posted) -> Any:
    return type(row)._default_manager


def _ours(row: Posted) -> "QuerySet[Any]":
    ours: QuerySet[Any] = _all(row).under_way().filter(pk=row.pk, attempt=row.attempt)
    return ours
