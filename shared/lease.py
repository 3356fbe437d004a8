"""Holding a row for as long as this process lives, however long its work takes."""

import logging
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from django.db import connection

logger = logging.getLogger(__name__)


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
