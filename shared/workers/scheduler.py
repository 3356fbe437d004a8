"""The scheduler. Each host may start one: one of them works, the others stand by."""

import logging
import signal
from typing import Any

from celery.beat import PersistentScheduler, Service
from celery.signals import beat_init
from django.db import DatabaseError, close_old_connections, connection

logger = logging.getLogger(__name__)

ENDS_WITHIN_SECONDS = 10


class OneOfMany(PersistentScheduler):
    """Sends what is due, unless another one does.

    One that takes over has sent nothing for long and sends everything that is due by its own book,
    some of it again: every task may come twice.
    """

    def __init__(self, *args: Any, **options: Any) -> None:
        from shared.workers.only_one import OnlyOne  # needs the apps, which are loaded by now

        self._lease = OnlyOne("scheduler")
        self._trouble = self._told_to_end = False
        super().__init__(*args, **options)

    def tick(self, *args: Any, **options: Any) -> float:
        """Send one task that is due; the seconds until there may be another."""
        from shared.workers.only_one import BEAT_SECONDS

        if self._told_to_end:
            raise SystemExit
        if not self._is_ours():
            return BEAT_SECONDS
        self._believe_the_clock()
        return min(float(super().tick(*args, **options)), BEAT_SECONDS)

    def end_soon(self, *_: object) -> None:
        """Instead of the next tick; one that hangs for long is ended by the alarm."""
        self._told_to_end = True
        signal.alarm(ENDS_WITHIN_SECONDS)

    def close(self) -> None:
        """Another one need not wait until we count as dead."""
        super().close()
        try:
            self._lease.give_up()
        except DatabaseError:
            logger.info("the scheduler could not give up its lease")

    def _believe_the_clock(self) -> None:
        """What ran last in a time still to come, as after a clock was put back, ran just now.

        It would wait until that time comes again.
        """
        ahead = False
        for entry in self.schedule.values():
            now = entry.default_now()
            if entry.last_run_at is not None and entry.last_run_at > now:
                entry.last_run_at, ahead = now, True
        if ahead:
            self.populate_heap()

    def _is_ours(self) -> bool:
        close_old_connections()
        try:
            ours = self._lease.is_ours()
        except DatabaseError as problem:
            if not self._trouble:
                logger.error("the scheduler waits for the database: %s", problem)
            self._trouble = True
            connection.close()
            return False
        self._trouble = False
        return ours


@beat_init.connect
def hear_between_ticks(sender: Service, **_more: object) -> None:
    """Have TERM and INT wait for the end of a tick.

    Celery's own handlers close the scheduler at once, in the midst of whatever it does. Where
    they interrupted a call of the database they waited for ever for what that call held.
    """
    scheduler = sender.scheduler
    assert isinstance(scheduler, OneOfMany)
    for number in (signal.SIGTERM, signal.SIGINT):
        signal.signal(number, scheduler.end_soon)
