"""Whether sheets wait while nobody makes any."""

from datetime import datetime

from drives.models import Sheet, Status
from shared.workers.lease import believed


def soon(now: datetime) -> datetime | None:
    """Since when the oldest waits that somebody waits for; None while one of them is made."""
    return _since(now, in_batch=False)


def batches(now: datetime) -> datetime | None:
    """The same of those in batches."""
    return _since(now, in_batch=True)


def _since(now: datetime, *, in_batch: bool) -> datetime | None:
    sheets = Sheet.objects.filter(in_batch=in_batch)
    oldest = sheets.filter(status=Status.QUEUED).order_by("requested_at").first()
    if oldest is None or sheets.being_made(now).exists():
        return None
    since_then = sheets.filter(finished_at__gt=oldest.requested_at, finished_at__lte=believed(now))
    done = since_then.order_by("-finished_at").first()
    return done.finished_at if done else oldest.requested_at
