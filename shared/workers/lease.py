"""Holding a row for as long as this process lives, and no longer, whatever the clocks tell."""

import logging
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta

from django.db import connection

logger = logging.getLogger(__name__)

# Between two machines of one site.
CLOCKS_APART = timedelta(minutes=1)


def believed(now: datetime, longest: timedelta = timedelta(0)) -> datetime:
    """The latest moment that can have been written as at most ``longest`` from then.

    A later one was written while a clock was ahead that has been put back since. Whoever
    believed it would wait for as long as the clock was ahead.
    """
    return now + longest + CLOCKS_APART


@contextmanager
def held(beat: Callable[[], object], *, every: float) -> Iterator[None]:
    """Call ``beat``, which makes the row's lease longer, each ``every`` seconds in the block."""
    ended = threading.Event()

    def keep() -> None:
        while not ended.wait(every):
            try:
                beat()
            except Exception:  # the next beat may be heard
                logger.exception("a lease could not be made longer")
            connection.close()

    keeper = threading.Thread(target=keep, daemon=True)
    keeper.start()
    try:
        yield
    finally:
        ended.set()
        keeper.join()
