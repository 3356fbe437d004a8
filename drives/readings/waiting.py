"""What waits for a worker, and since when."""

from collections.abc import Iterator
from datetime import datetime
from typing import NamedTuple

from django.db.models import Count, Min, Q

from accounts.models import Mail
from drives.models import Letter, Sheet, Status


class Waiting(NamedTuple):
    """``many`` pieces of ``work``; ``since`` when the oldest could have been begun."""

    work: str
    many: int
    since: datetime | None


def waiting(now: datetime) -> Iterator[Waiting]:
    """Each kind of work; what is put off until later does not wait yet."""
    queued = Sheet.objects.filter(status=Status.QUEUED)
    for work, in_batch in (("documents", False), ("batches", True)):
        facts = queued.filter(in_batch=in_batch).aggregate(
            count=Count("pk"), since=Min("requested_at")
        )
        yield Waiting(work, facts["count"], facts["since"])
    for work, rows in (("letters", Letter.objects), ("mails", Mail.objects)):
        facts = rows.to_send(now).aggregate(count=Count("pk"), since=Min("not_before"))
        yield Waiting(work, facts["count"], facts["since"])


def done() -> Iterator[tuple[str, str, int]]:
    """How many rows of each kind of work ended how: kind, outcome, count."""
    by_status = Sheet.objects.values_list("status").annotate(count=Count("pk")).order_by("status")
    for status, count in by_status:
        yield "documents", status, count
    for work, rows in (("letters", Letter.objects), ("mails", Mail.objects)):
        outcomes = rows.aggregate(
            waiting=Count("pk", filter=Q(sent_at=None, dropped_at=None)),
            sent=Count("pk", filter=Q(sent_at__isnull=False)),
            dropped=Count("pk", filter=Q(dropped_at__isnull=False)),
        )
        for outcome, count in outcomes.items():
            yield work, outcome, count
