"""What goes out by e-mail: how far it is."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any, Self

from django.conf import settings
from django.db import models
from django.db.models import F, Q

from shared.workers.lease import believed

LEASE = timedelta(seconds=10)  # after which a worker that says nothing counts as dead
MOST_ATTEMPTS = 10
FIRST_WAIT = timedelta(minutes=1)  # doubled each time: some eight hours until it is given up


def wait_after(attempt: int) -> timedelta:
    """How long it waits that has been tried so often."""
    return FIRST_WAIT * 2 ** (attempt - 1) if attempt else timedelta(0)


class PostedQuerySet(models.QuerySet[Any]):
    """Rows of one kind of e-mail, by what is to be done with them."""

    def under_way(self) -> Self:
        """Neither sent nor dropped."""
        return self.filter(sent_at=None, dropped_at=None)

    def to_send(self, now: datetime) -> Self:
        """In nobody's hands, or in those of a worker that has died, and to be tried by ``now``.

        No lease and no wait is believed that is longer than those that are given.
        """
        free = Q(taken_at=None) | Q(lease_until__lt=now)
        free |= Q(lease_until__gt=believed(now, LEASE))
        ready = Q(not_before__lte=now)
        for attempt in range(MOST_ATTEMPTS + 1):
            longest = believed(now, wait_after(attempt))
            ready |= Q(attempt=attempt, not_before__gt=longest)
        return self.under_way().filter(free, ready)

    def in_hand(self, now: datetime) -> Self:
        """A worker that lives is sending them."""
        lease = (now, believed(now, LEASE))
        return self.under_way().filter(taken_at__isnull=False, lease_until__range=lease)

    def in_limbo(self) -> Self:
        """The mail server may have them or not, and they are not sent again.

        Those that were taken without a lease are of earlier days.
        """
        given_up = Q(dropped_at__isnull=False, unclear_at__isnull=False)
        old = Q(taken_at__isnull=False, lease_until=None, sent_at=None, dropped_at=None)
        return self.filter(given_up | old)


class Posted(models.Model):
    """One e-mail; the row is the truth, and a message carries only its id.

    A worker takes it (``taken_at``) until ``lease_until``, which it makes later while it lives;
    ``attempt`` counts how often that was. It goes back (``taken_at`` is empty again) where the mail
    server cannot have accepted it. Where nobody knows (``unclear_at``), it is sent once more under
    the same Message-ID, by which a mail program shows it once. ``not_before`` is when it may be
    tried (again). What is refused for good, or has nothing to say any more, has ``dropped_at``.
    """

    queued_at = models.DateTimeField()
    not_before = models.DateTimeField()
    attempt = models.PositiveSmallIntegerField(default=0)
    taken_at = models.DateTimeField(null=True)
    lease_until = models.DateTimeField(null=True)
    unclear_at = models.DateTimeField(null=True)
    sent_at = models.DateTimeField(null=True)
    dropped_at = models.DateTimeField(null=True)

    class Meta:
        abstract = True

    @property
    def message_id(self) -> str:
        """The same for each attempt."""
        when = int(self.queued_at.timestamp() * 1_000_000)
        host = settings.SITE_URL.partition("://")[2].partition("/")[0].partition(":")[0]
        return f"<{self._meta.model_name}.{self.pk}.{when}@{host}>"


def sending_constraints(name: str) -> list[models.BaseConstraint]:
    """What is never false of such rows; ``name`` begins the names of the constraints."""
    return [
        models.CheckConstraint(
            # A comparison with nothing would pass for true.
            condition=Q(sent_at=None) | Q(taken_at__isnull=False, sent_at__gte=F("taken_at")),
            name=f"{name}_taken_before_it_is_sent",
        ),
        models.CheckConstraint(
            condition=Q(sent_at=None) | Q(dropped_at=None), name=f"{name}_sent_or_dropped"
        ),
    ]
