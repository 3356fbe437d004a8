"""Figures for whoever watches over the site, in the format of Prometheus, under ``/metrics/``.

What the processes have counted, and what is in the rows, which is read when somebody asks.
"""

import hmac
import time
from collections.abc import Iterator
from datetime import datetime
from ipaddress import ip_address

from django.conf import settings
from django.db import DatabaseError, connection
from django.http import Http404, HttpRequest, HttpResponse
from django.utils import timezone
from django.utils.module_loading import import_string
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe
from prometheus_client import CONTENT_TYPE_LATEST, generate_latest
from prometheus_client.core import GaugeMetricFamily, Metric
from prometheus_client.registry import Collector

from shared.telling.counted import of_all_processes


class InRows(Collector):
    """What the database tells: what waits and since when, how work ended, and how it is itself."""

    def collect(self) -> Iterator[Metric]:
        up = GaugeMetricFamily("mitrewise_database_up", "Whether the database answers.")
        try:
            told = [_answered_within(), *_waiting(timezone.now()), _done()]
        except DatabaseError:
            up.add_metric([], 0)
            yield up
            return
        up.add_metric([], 1)
        yield up
        yield from told


def _answered_within() -> Metric:
    began = time.monotonic()
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")
    return GaugeMetricFamily(
        "mitrewise_database_seconds",
        "How long the database took to answer.",
        time.monotonic() - began,
    )


def _waiting(now: datetime) -> tuple[Metric, Metric]:
    many = GaugeMetricFamily("mitrewise_waiting", "Work that waits.", labels=["work"])
    age = GaugeMetricFamily(
        "mitrewise_waiting_seconds", "How long the oldest of it waits.", labels=["work"]
    )
    for each in import_string(settings.METRICS_WAITING)(now):
        many.add_metric([each.work], each.many)
        since = (now - each.since).total_seconds() if each.since else 0
        age.add_metric([each.work], max(since, 0))
    return many, age


def _done() -> Metric:
    rows = GaugeMetricFamily(
        "mitrewise_rows", "Work by how it stands or ended.", labels=["work", "outcome"]
    )
    for kind, outcome, number in import_string(settings.METRICS_DONE)():
        rows.add_metric([kind, outcome], number)
    return rows


@never_cache
@require_safe
def metrics(request: HttpRequest) -> HttpResponse:
    """The figures, for whoever has the token; without one set, for this machine alone."""
    if not _may_read(request):
        raise Http404
    registry = of_all_processes()
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
