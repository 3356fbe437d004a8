"""Doing without a part that is away, instead of waiting for it at each step."""

import logging
import threading
import time
from collections.abc import Callable
from typing import TypeVar

logger = logging.getLogger(__name__)

Answer = TypeVar("Answer")

OPEN_SECONDS = 5.0


class Circuit:
    """Once a call of the part called ``name`` fails, none is made for some seconds.

    Then one caller tries again, while the others still go on without. The log tells once that
    the part is away and once that it is back, however long that takes.
    """

    def __init__(self, name: str, *, seconds: float = OPEN_SECONDS) -> None:
        self._name = name
        self._seconds = seconds
        self._lock = threading.Lock()
        self._away = False
        self._next_try = 0.0

    def call(self, make: Callable[[], Answer], otherwise: Callable[[], Answer]) -> Answer:
        """What ``make`` answers; where it fails, or would, what ``otherwise`` does."""
        if not self._may_try():
            return otherwise()
        try:
            answer = make()
        except ValueError:
            raise  # the caller's own mistake, or an answer of its own: it has been reached
        except Exception as problem:
            self._failed(problem)
            return otherwise()
        self._succeeded()
        return answer

    def forget(self) -> None:
        """Begin as if nothing had happened."""
        self._away = False

    def _may_try(self) -> bool:
        if not self._away:
            return True
        with self._lock:
            now = time.monotonic()
            mine = now >= self._next_try
            if mine:
                self._next_try = now + self._seconds
        return mine

    def _failed(self, problem: Exception) -> None:
        with self._lock:
            news, self._away = not self._away, True
            self._next_try = time.monotonic() + self._seconds
        if news:
            logger.warning("The %s is away; the site goes on without: %s", self._name, problem)

    def _succeeded(self) -> None:
        if self._away:
            with self._lock:
                news, self._away = self._away, False
            if news:
                logger.warning("The %s is back.", self._name)
