"""Two questions that a machine may ask: are you alive, and can you work?"""

from pathlib import Path

import redis
from django.conf import settings
from django.db import DatabaseError, connection
from django.http import HttpRequest, JsonResponse
from django.urls import path
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from shared import troubles


@never_cache
@require_safe
def alive(request: HttpRequest) -> JsonResponse:
    """200 as long as the process answers at all."""
    return JsonResponse({"status": "alive"})


@never_cache
@require_safe
def ready(request: HttpRequest) -> JsonResponse:
    """200 when the database and the queue can be reached and every part runs, else 503 and why."""
    parts = {"database": _database(), "queue": _queue(), "parts": _parts()}
    in_order = all(words in ("reachable", "running") for words in parts.values())
    return JsonResponse(
        {"status": "ready" if in_order else "not ready", **parts}, status=200 if in_order else 503
    )


def _database() -> str:
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
    except DatabaseError:
        return "The database does not answer."
    return "reachable"


def _queue() -> str:
    broker: str = settings.CELERY_BROKER_URL
    if broker.startswith("filesystem:"):
        folder = Path(settings.CELERY_BROKER_TRANSPORT_OPTIONS["data_folder_in"])
        return "reachable" if folder.is_dir() else "The queue's folder is missing."
    try:
        with redis.Redis.from_url(broker, socket_timeout=2, socket_connect_timeout=2) as client:
            client.ping()
    except redis.RedisError:
        return "Redis does not answer."
    return "reachable"


def _parts() -> str:
    return " ".join(troubles.noted()) or "running"


urlpatterns = [
    path("", alive, name="health"),
    path("ready/", ready, name="health-ready"),
]
