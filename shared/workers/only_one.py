"""One process at a time, however many are started: the others watch, and one of them takes over.

No clock is compared with another one, and none is ever set. The holder of the lease counts
up; a watcher sees, by the time that passes here, for how long nothing was counted.
"""

import time
from collections.abc import Callable
from uuid import uuid4

from django.db.models import F

from shared.basics.transactions import writing
from shared.models import Lease

BEAT_SECONDS = 2.0
DEAD_SECONDS = 8.0  # without a beat: the holder counts as dead


class OnlyOne:
    """One process among those that would have the lease ``name``."""

    def __init__(self, name: str, *, clock: Callable[[], float] = time.monotonic) -> None:
        self._rows = Lease.objects.filter(name=name)
        self._name, self._me, self._clock = name, uuid4().hex, clock
        self._beat_at: float | None = None  # while it is ours
        self._seen: tuple[str, int] | None = None
        self._seen_at = 0.0

    def is_ours(self) -> bool:
        """To be asked before each thing that one alone may do, and each ``BEAT_SECONDS``.

        At most ``DEAD_SECONDS`` after the last beat of a holder that died it is ours, or that of
        another one who asks.
        """
        now = self._clock()
        if self._beat_at is None:
            taken = self._take(now)
        elif now - self._beat_at < BEAT_SECONDS:
            return True
        else:
            taken = self._count_up(holder=self._me)
        self._beat_at = now if taken else None
        return taken

    def give_up(self) -> None:
        """Let another have it at once."""
        with writing():
            self._rows.filter(holder=self._me).update(holder="")
        self._beat_at = None

    def _take(self, now: float) -> bool:
        seen = self._rows.values_list("holder", "beat").first()
        if seen is None:
            with writing():
                Lease.objects.bulk_create([Lease(name=self._name)], ignore_conflicts=True)
            seen = self._rows.values_list("holder", "beat").get()
        holder, beat = seen
        if seen != self._seen:
            self._seen, self._seen_at = seen, now
        alive = holder and now - self._seen_at < DEAD_SECONDS
        return not alive and self._count_up(holder=holder, beat=beat)

    def _count_up(self, **as_it_was: str | int) -> bool:
        """Of many who try, one finds the row as it was."""
        with writing():
            rows = self._rows.filter(**as_it_was)
            return rows.update(holder=self._me, beat=F("beat") + 1) > 0
