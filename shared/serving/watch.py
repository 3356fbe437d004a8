"""Watching over workers: one can live and yet do nothing any more.

So it is when a process of its pool was killed with a lock of the others in its hands. Its heart
tells that soon, also while another host does all the work; the work that waits tells the rest.
"""

import logging
import threading
import time
from collections.abc import Callable

from django.conf import settings
from django.db import connection

from shared.needs import quick
from shared.workers.heart import Heart
from shared.workers.standstill import sentence, standing_still

logger = logging.getLogger(__name__)

LOOK_SECONDS = 2.0
FIRST_PATIENCE, LONGEST_PATIENCE = 15.0, 600.0


class Watch:
    """Looks in a thread of its own, and complains about a worker that goes on doing nothing."""

    def __init__(self) -> None:
        self._hearts: dict[str, Heart] = {}
        self._since: dict[str, float] = {}
        self._patience: dict[str, float] = {}
        threading.Thread(target=self._look_again_and_again, daemon=True).start()

    def over(self, queue: str, heart: Heart) -> Callable[[], str | None]:
        """What to say against the worker of ``queue``, once it is to be started anew."""
        self._hearts[queue] = heart
        return lambda: self._complaint(queue)

    def _complaint(self, queue: str) -> str | None:
        since = self._since.get(queue)
        patience = self._patience.get(queue, FIRST_PATIENCE)
        if since is None or time.monotonic() - since < patience:
            return None
        # A new one needs time, and may find that it was not its fault.
        self._patience[queue] = min(2 * patience, LONGEST_PATIENCE)
        self._since.pop(queue, None)
        if self._hearts[queue].has_stopped():
            return f"The worker of the queue “{queue}” is alive and does nothing."
        return sentence(queue)

    def _look_again_and_again(self) -> None:
        while True:
            time.sleep(LOOK_SECONDS)
            try:
                self._look()
            except Exception as problem:  # the database is away: that is no worker's fault
                logger.info("nobody can know whether work stands still: %s", problem)
                self._since.clear()
            connection.close()

    def _look(self) -> None:
        away = list(quick.queue())  # which is no worker's fault
        still = [] if away else [*standing_still(), *self._stopped()]
        for queue in settings.STANDSTILL:
            if queue in still:
                self._since.setdefault(queue, time.monotonic())
            else:
                self._since.pop(queue, None)
                self._patience.pop(queue, None)

    def _stopped(self) -> list[str]:
        return [queue for queue, heart in list(self._hearts.items()) if heart.has_stopped()]
