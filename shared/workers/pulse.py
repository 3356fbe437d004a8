"""A worker's heart, from inside: it beats while the worker's loop turns and its pool takes up work.

Celery tells of each turn by its own heartbeat. A worker that does its tasks in its own process has
no turns meanwhile, and is believed for longer.
"""

import os

from celery import signals
from celery.worker import state

from shared.workers.heart import Heart

STARTING_SECONDS = 60.0
TURN_SECONDS = 6.0  # Celery's own heart beats each two
TASK_SECONDS = 600.0


class Pulse:
    """Of this process, which is a worker; what it forks has none."""

    def __init__(self, heart: Heart) -> None:
        self._heart, self._process = heart, os.getpid()
        heart.beat(STARTING_SECONDS)
        signals.heartbeat_sent.connect(self._turn, weak=False)
        signals.task_prerun.connect(self._begin, weak=False)
        signals.task_postrun.connect(self._end, weak=False)

    def _turn(self, **_: object) -> None:
        given, begun = len(state.reserved_requests), len(state.active_requests)
        if begun or not given:
            self._heart.beat(TURN_SECONDS)

    def _begin(self, **_: object) -> None:
        self._beat_here(TASK_SECONDS)

    def _end(self, **_: object) -> None:
        self._beat_here(TURN_SECONDS)

    def _beat_here(self, seconds: float) -> None:
        if os.getpid() == self._process:
            self._heart.beat(seconds)
