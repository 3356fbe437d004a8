"""The parts of the site, and the processes that each of them is made of."""

import socket
import sys
from collections.abc import Sequence

from django.conf import settings

from shared.serving.supervisor import Service
from shared.serving.watch import Watch
from shared.workers.heart import NUMBER, Heart

PARTS = ("web", "worker", "beat")


def services(listening: socket.socket | None, only: Sequence[str] = PARTS) -> list[Service]:
    """The processes of these parts of the site; the web server first."""
    python = [sys.executable, "-m"]
    # Django's checks have just run here.
    celery = [*python, "celery", "--quiet", "--skip-checks", "--app", "shared"]
    parts: list[Service] = []
    if listening:
        file = listening.fileno()
        parts.append(
            Service("web server", [*python, "shared.serving.web", str(file)], files=[file])
        )
    if "worker" in only:
        # Of their own, so that none holds up another: what somebody waits for, what is made in a
        # batch, what a slow mail server takes, and what the clock strikes.
        watch = Watch()
        parts += [
            _worker(celery, watch, settings.SOON, settings.WORKER_PROCESSES),
            _worker(celery, watch, settings.BATCHES, 1),
            _worker(celery, watch, settings.LETTERS),
            _worker(celery, watch, settings.CLOCK),
        ]
    if "beat" in only:
        parts.append(Service("scheduler", [*celery, "beat", "--loglevel", "WARNING"]))
    return parts


def _worker(celery: list[str], watch: Watch, queue: str, processes: int | None = None) -> Service:
    """Without a number of ``processes`` for its work it does that in its own, which is small."""
    pool = ("--concurrency", str(processes)) if processes else ("--pool", "solo")
    heart = Heart()
    return Service(
        f"worker of the queue “{queue}”",
        [
            *celery,
            *("worker", "--queues", queue, "--hostname", f"{queue}@%h"),
            *pool,
            *("--without-gossip", "--without-mingle", "--loglevel", "WARNING"),
        ],
        files=[heart.file],
        variables={NUMBER: str(heart.file)},
        complaint=watch.over(queue, heart),
    )
