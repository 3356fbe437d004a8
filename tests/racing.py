"""Holding one transaction while another one wants the same rows. PostgreSQL only.

The first does its part and keeps its transaction open; the second comes and has to wait; the
first commits; then it is seen what the second one got.
"""

import threading
import time
from collections.abc import Callable
from concurrent.futures import Future
from typing import Any, Generic, TypeVar

import pytest
from django.db import connection, transaction

from shared.basics.refusals import Refused

T = TypeVar("T")

PATIENCE_SECONDS = 60.0

# What a file of races of actions says of itself: pytestmark = RACES.
RACES = [
    pytest.mark.postgres,
    pytest.mark.django_db(transaction=True),
    pytest.mark.usefixtures("all_is_well_afterwards"),
]


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


def meanwhile(first: Callable[[], object], second: Callable[[], T]) -> Rival[T]:
    """``second`` begins while ``first`` is done but not committed, and has to wait for it."""
    with transaction.atomic():
        first()
        rival = Rival(second)
        assert rival.is_waiting()
    return rival


def race(first: Callable[[], object], second: Callable[[], T]) -> T:
    """What ``second`` answered or raised, which had to wait for ``first``."""
    return meanwhile(first, second).result()


def while_open(first: Callable[[], object], second: Callable[[], object]) -> str:
    """The same, said as ``outcome`` does."""
    return outcome(meanwhile(first, second))


def outcome(rival: Rival[Any]) -> str:
    """``done``, or the code of the refusal with what stands in the way."""
    try:
        rival.result()
    except Refused as refusal:
        facts = [fact for value in refusal.facts.values() for fact in _listed(value)]
        return " ".join([refusal.code, *facts])
    return "done"


def _listed(value: object) -> list[str]:
    return [str(each) for each in value] if isinstance(value, list) else [str(value)]
