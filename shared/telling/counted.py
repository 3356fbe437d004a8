"""Figures that processes count: requests and tasks.

Each process counts in files of its own, under the data folder; any of them answers for all. The
containers of one host may share that folder, and each has the same numbers for its processes.
"""

import os
import time
from collections.abc import Iterable
from collections.abc import Set as AbstractSet
from pathlib import Path
from socket import gethostname
from typing import Any, cast

from billiard.process import current_process
from django.conf import settings
from django.http import HttpRequest, HttpResponseBase
from prometheus_client import CollectorRegistry, Counter, Histogram, Metric, values
from prometheus_client.multiprocess import MultiProcessCollector

from shared.pages.wrapping import Wrapping

FOLDER = Path(settings.DATA_DIR) / "metrics"
HOST = gethostname()


def _process() -> str:
    """The process that counts; a worker's child counts on where the one before it ended."""
    place = getattr(current_process(), "index", None)
    number = str(os.getpid()) if place is None else f"{os.getppid()}-{place}"
    return f"{number}@{HOST}"


FOLDER.mkdir(mode=0o700, exist_ok=True)
os.environ["PROMETHEUS_MULTIPROC_DIR"] = str(FOLDER)
values.ValueClass = values.MultiProcessValue(_process)  # type: ignore[no-untyped-call]

_ours = CollectorRegistry()
REQUESTS = Counter(
    "mitrewise_requests", "Requests answered.", ["view", "method", "status"], registry=_ours
)
REQUEST_SECONDS = Histogram(
    "mitrewise_request_seconds", "How long an answer took.", ["view"],
    buckets=(0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10), registry=_ours,
)  # fmt: skip
TASKS = Counter("mitrewise_tasks", "Tasks that ended.", ["task", "outcome"], registry=_ours)
TASK_SECONDS = Histogram(
    "mitrewise_task_seconds", "How long a task took.", ["task"],
    buckets=(0.1, 0.5, 1, 5, 15, 60, 300), registry=_ours,
)  # fmt: skip

METHODS = ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS")


class Counted(Wrapping):
    """Counts each request by the name of its view, never by its address, which may be secret."""

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        began = time.monotonic()
        answer = self.get_response(request)
        view = request.resolver_match.view_name if request.resolver_match else "none"
        method = request.method if request.method in METHODS else "other"
        REQUESTS.labels(view, method, answer.status_code).inc()
        REQUEST_SECONDS.labels(view).observe(time.monotonic() - began)
        return answer


_began: dict[str, float] = {}


def task_begins(task_id: str, **_more: Any) -> None:
    """For Celery's ``task_prerun``."""
    _began[task_id] = time.monotonic()


def task_ends(task_id: str, task: Any, state: str | None = None, **_more: Any) -> None:
    """For Celery's ``task_postrun``."""
    TASKS.labels(task.name, (state or "unknown").lower()).inc()
    if began := _began.pop(task_id, None):
        TASK_SECONDS.labels(task.name).observe(time.monotonic() - began)


class _Collector(MultiProcessCollector):
    """A process makes its file, and a moment later fills it; another one clears them away."""

    def collect(self) -> Iterable[Metric]:
        files = [str(file) for file in FOLDER.glob("*.db") if _filled(file)]
        return cast("Iterable[Metric]", self.merge(files))  # type: ignore[no-untyped-call]


def _filled(file: Path) -> bool:
    try:
        return file.stat().st_size > 0
    except FileNotFoundError:
        return False


def of_all_processes() -> CollectorRegistry:
    """What they all have counted so far."""
    registry = CollectorRegistry()
    _Collector(registry)  # type: ignore[no-untyped-call]
    return registry


def forget_the_dead(hosts: AbstractSet[str]) -> None:
    """Remove the files of processes that are no more, here and on hosts other than ``hosts``."""
    for file in FOLDER.glob("*.db"):
        _kind, _, process = file.stem.partition("_")
        number, _, host = process.partition("@")
        lives = _lives(int(number.partition("-")[0])) if host == HOST else host in hosts
        if not lives:
            file.unlink(missing_ok=True)


def _lives(number: int) -> bool:
    try:
        os.kill(number, 0)
    except ProcessLookupError:
        return False
    except PermissionError:
        return True
    return True
