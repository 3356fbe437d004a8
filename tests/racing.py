"""Holding one transaction while another one wants the same rows. PostgreSQL only."""

import threading
import time
from collections.abc import Callable
from concurrent.futures import Future
from typing import Generic, TypeVar

from django.db import connection

T = TypeVar("T")

PATIENCE_SECONDS = 60.0


class Rival(Generic[T]):
    """Runs ``act`` in a thread with a connection of its own, from the moment it is made."""

    def __init__(self, act: Callable[[], T]) -> None:
        self._future: Future[T] = Future()
        self._thread = threading.Thread(target=self._run, args=[act], daemon=True)
        self._thread.start()

    def _run(self, act: Callable[[], T]) -> None:
        try:
            self._future.set_result(act())
        except BaseException as error:  # handed to the main thread by result()
            self._future.set_exception(error)
        finally:
            connection.close()

    def is_waiting(self) -> bool:
        """True once the database says that a session waits for this one; False if none will."""
        deadline = time.monotonic() + PATIENCE_SECONDS
        while time.monotonic() < deadline and not self._future.done():
            with connection.cursor() as cursor:
                # pg_locks is read afresh inside a transaction, which pg_stat_activity is not.
                cursor.execute(
                    "SELECT count(*) FROM pg_locks WHERE NOT granted "
                    "AND pg_backend_pid() = ANY(pg_blocking_pids(pid))"
                )
                if cursor.fetchone()[0]:
                    return True
            time.sleep(0.01)
        return False

    def result(self) -> T:
        """What ``act`` answered or raised; waits for it."""
        answer = self._future.result(timeout=PATIENCE_SECONDS)
        self._thread.join(PATIENCE_SECONDS)
        return answer
