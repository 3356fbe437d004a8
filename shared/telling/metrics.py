"""Figures for whoever watches over the site, in the format of Prometheus, under ``/metrics/``.

Each process of a host counts in files of its own, under the data folder; any of them answers for
all. What is in the rows is read when somebody asks.
"""

import hmac
import os
import time
from collections.abc import Callable, Iterator
from ipaddress import ip_address
from pathlib import Path
from typing import Any

from billiard.process import current_process
from django.conf import settings
from django.db import DatabaseError, connection
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseBase
from django.utils import timezone
from django.utils.module_loading import import_string
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe
from prometheus_client import (
    CONTENT_TYPE_LATEST,
    CollectorRegistry,
    Counter,
    Histogram,
    generate_latest,
    values,
)
from prometheus_client.core import GaugeMetricFamily, Metric
from prometheus_client.multiprocess import MultiProcessCollector
from prometheus_client.registry import Collector

FOLDER = Path(settings.DATA_DIR) / "metrics"


def _process() -> str:
    """Who counts: a worker's child in the place of another that ended counts on where it was."""
    place = getattr(current_process(), "index", None)
    return str(os.getpid()) if place is None else f"{os.getppid()}-{place}"


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


class Counted:
    """Counts each request by the name of its view, never by its address, which may be secret."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        began = time.monotonic()
        answer = self.get_response(request)
        view = request.resolver_match.view_name if request.resolver_match else "none"
        method = request.method if request.method in METHODS else "other"
        REQUESTS.labels(view, method, answer.status_code).inc()
        REQUEST_SECONDS.labels(view).observe(time.monotonic() - began)
        return answer


METHODS = ("GET", "HEAD", "POST", "PUT", "PATCH", "DELETE", "OPTIONS")


class InRows(Collector):
    """What the database tells: what waits and since when, how work ended, and how it is itself."""

    def collect(self) -> Iterator[Metric]:
        began, now = time.monotonic(), timezone.now()
        up = GaugeMetricFamily("mitrewise_database_up", "Whether the database answers.")
        try:
            with connection.cursor() as cursor:
                cursor.execute("SELECT 1")
            took = time.monotonic() - began
            work = list(import_string(settings.METRICS_WAITING)(now))
            ended = list(import_string(settings.METRICS_DONE)())
        except DatabaseError:
            up.add_metric([], 0)
            yield up
            return
        up.add_metric([], 1)
        yield up
        yield GaugeMetricFamily(
            "mitrewise_database_seconds", "How long the database took to answer.", took
        )
        count = GaugeMetricFamily("mitrewise_waiting", "Work that waits.", labels=["work"])
        age = GaugeMetricFamily(
            "mitrewise_waiting_seconds", "How long the oldest of it waits.", labels=["work"]
        )
        for each in work:
            count.add_metric([each.work], each.many)
            since = (now - each.since).total_seconds() if each.since else 0
            age.add_metric([each.work], max(since, 0))
        yield count
        yield age
        rows = GaugeMetricFamily(
            "mitrewise_rows", "Work by how it stands or ended.", labels=["work", "outcome"]
        )
        for kind, outcome, number in ended:
            rows.add_metric([kind, outcome], number)
        yield rows


@never_cache
@require_safe
def metrics(request: HttpRequest) -> HttpResponse:
    """The figures, for who has the token; without one set, for this machine alone."""
    if not _may_read(request):
        raise Http404
    registry = CollectorRegistry()
    MultiProcessCollector(registry)  # type: ignore[no-untyped-call]
    registry.register(InRows())
    return HttpResponse(generate_latest(registry), content_type=CONTENT_TYPE_LATEST)


def _may_read(request: HttpRequest) -> bool:
    if token := settings.METRICS_TOKEN:
        given = request.META.get("HTTP_AUTHORIZATION", "")
        return hmac.compare_digest(given.encode(), f"Bearer {token}".encode())
    # Through a proxy on this machine everybody would seem to be here.
    address = request.META.get("REMOTE_ADDR", "")
    forwarded = "HTTP_X_FORWARDED_FOR" in request.META or "HTTP_FORWARDED" in request.META
    return not forwarded and bool(address) and ip_address(address).is_loopback


def forget_the_dead() -> None:
    """Remove the files of processes that are no more, when the site starts."""
    for file in FOLDER.glob("*.db"):
        number = file.stem.rpartition("_")[2].partition("-")[0]
        if number.isdecimal() and not _lives(int(number)):
            file.unlink(missing_ok=True)


def _lives(number: int) -> bool:
    try:
        os.kill(number, 0)
    except ProcessLookupError:
        return False
    except PermissionError:
        return True
    return True


_began: dict[str, float] = {}


def task_begins(task_id: str, **_more: Any) -> None:
    """For Celery's ``task_prerun``."""
    _began[task_id] = time.monotonic()


def task_ends(task_id: str, task: Any, state: str | None = None, **_more: Any) -> None:
    """For Celery's ``task_postrun``."""
    TASKS.labels(task.name, (state or "unknown").lower()).inc()
    if began := _began.pop(task_id, None):
        TASK_SECONDS.labels(task.name).observe(time.monotonic() - began)
