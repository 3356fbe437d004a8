"""Asking for documents, and the life of their rows until they are done."""

from collections.abc import Iterable, Mapping
from datetime import UTC, datetime, timedelta
from typing import Any, NamedTuple

from django.conf import settings
from django.db.models import Count, F, Max, Min, Q, QuerySet

from accounts.actions.limits import spend_by
from accounts.models import Member
from drives.actions.locks import hold_unattended_sheets
from drives.actions.log import note_drive
from drives.models import Blanket, Sheet, Status
from drives.models.sheet import LEASE, MESSAGE_PATIENCE
from shared.basics.transactions import writing
from shared.workers.lease import believed
from shared.workers.queue import tell_workers

from .fingerprint import fingerprint
from .kind import PrintedKind, SheetKind

# By name: the task lives in a room above this one.
RENDER = "drives.sheets.tasks.render_sheet"

MOST_ATTEMPTS = 3
FILES_PATIENCE = timedelta(hours=1)


class Taken(NamedTuple):
    """A sheet in a worker's hands; every later step must name the same ``attempt``."""

    sheet: Sheet
    attempt: int


def request_sheet(
    *,
    kind: SheetKind,
    blanket: Blanket,
    by: Member,
    options: Mapping[str, Any],
    now: datetime,
    in_batch: bool = False,
    by_itself: bool = False,
) -> Sheet:
    """The sheet of the blanket as it stands: the one already asked for, or a new one in the queue.

    ``options`` of a printed one are ``Options.stored()``. What nobody waits for is asked for
    ``in_batch``, as some kinds always are; it comes forward when somebody does wait. A sheet that
    failed does not count: asking again makes a new one. What the site wants ``by_itself`` counts
    for nobody. Raises LimitReached.
    """
    in_batch = in_batch or kind.in_batch
    with writing():
        sheet, new = Sheet.objects.live().get_or_create(
            blanket=blanket,
            kind=kind.code,
            fingerprint=fingerprint(kind, blanket, options, now),
            defaults={
                "options": options,
                "in_batch": in_batch,
                "requested_by": by,
                "requested_at": now,
                "lease_until": now + MESSAGE_PATIENCE,
            },
        )
        if new and not by_itself:
            what = "documents" if isinstance(kind, PrintedKind) else "look-aheads"
            spend_by(by, what, now)
        comes_forward = sheet.in_batch and not in_batch and _come_forward(sheet, now)
        if new or comes_forward:
            _send([sheet])
        if new and isinstance(kind, PrintedKind):
            # Under the drive: the blanket's revision, which the fingerprint is made of, stays.
            facts = {"blanket": blanket.name, "kind": kind.code, **options}
            note_drive(blanket.drive, by, "sheet-requested", now, **facts)
    return sheet


def live_sheet(
    *, kind: SheetKind, blanket: Blanket, options: Mapping[str, Any], now: datetime
) -> Sheet | None:
    """The sheet that ``request_sheet`` would answer, if it is there already."""
    same = fingerprint(kind, blanket, options, now)
    return Sheet.objects.live().filter(blanket=blanket, kind=kind.code, fingerprint=same).first()


def take_sheet(*, sheet_id: int, now: datetime) -> Taken | None:
    """Put a queued sheet into the hands of the caller until ``now`` + ``LEASE``.

    None when there is nothing to do: it is done, or another has it. Of many who try at once one
    gets it.
    """
    with writing():
        queued = Sheet.objects.filter(pk=sheet_id, status=Status.QUEUED)
        if not queued.update(
            status=Status.RENDERING,
            attempt=F("attempt") + 1,
            lease_until=now + LEASE,
            taken_at=now,
            progress=0,
        ):
            return None
        sheet = Sheet.objects.select_related("blanket__drive__circle").get(pk=sheet_id)
    return Taken(sheet, sheet.attempt)


def take_next_sheet(*, sheet_id: int, now: datetime) -> Taken | None:
    """Take the sheet whose turn it is, when a message about ``sheet_id`` asks for one.

    Each message stands for one sheet that waits as this one does, in a batch or before them;
    which of them comes next is chosen only now, so that one circle's hundred documents do not
    hold another's. None when nothing waits there.
    """
    asked = Sheet.objects.filter(pk=sheet_id).first()
    if asked is None:
        return None
    while (fair := _fairest(asked.in_batch, now)) is not None:
        if taken := take_sheet(sheet_id=fair, now=now):
            return taken
    return take_sheet(sheet_id=sheet_id, now=now)


def _fairest(in_batch: bool, now: datetime) -> int | None:
    """The oldest sheet of the circle for which the fewest are being made, then longest ago.

    What went wrong waits for the sweep to send it again.
    """
    circle = "blanket__drive__circle"
    waiting = Sheet.objects.filter(
        status=Status.QUEUED, in_batch=in_batch, lease_until__isnull=False
    )
    oldest = dict(waiting.order_by().values_list(circle).annotate(first=Min("pk")))
    # What was taken in a time to come, as after a clock was put back, tells nothing.
    told = Sheet.objects.filter(taken_at__lte=believed(now))
    of_these = told.filter(blanket__drive__circle__in=oldest)
    busy = Count("pk", filter=Q(status=Status.RENDERING))
    by_circle = of_these.order_by().values_list(circle).annotate(busy=busy, last=Max("taken_at"))
    served = {its: (making, last) for its, making, last in by_circle}
    never = (0, datetime.min.replace(tzinfo=UTC))
    turns = [(*served.get(its, never), pk) for its, pk in oldest.items()]
    return min(turns)[-1] if turns else None


def report_progress(*, taken: Taken, progress: int, now: datetime) -> bool:
    """Say how far it is, in per cent, and hold it for longer; False when another has it now."""
    with writing():
        return _still(taken).update(progress=progress, lease_until=now + LEASE) > 0


def finish_sheet(
    *, taken: Taken, now: datetime, file: str = "", foretold: Mapping[str, Any] | None = None
) -> bool:
    """It lies in the storage under the name ``file``, or is what is ``foretold``.

    False when it is not wanted.
    """
    with writing():
        done = _still(taken).update(
            status=Status.DONE,
            progress=100,
            file=file,
            foretold=foretold,
            finished_at=now,
            lease_until=None,
            error="",
        )
    return done > 0


def put_back_sheet(*, taken: Taken, error: str) -> None:
    """This attempt went wrong: queue it again, or give it up if it was the last one.

    ``error`` says it in words for who asked.
    """
    with writing():
        last = taken.attempt >= MOST_ATTEMPTS
        # Without a lease: the next sweep, some seconds from now, sends it again.
        _still(taken).update(
            status=Status.FAILED if last else Status.QUEUED, error=error, lease_until=None
        )


def keep_for_files(*, taken: Taken, error: str, now: datetime) -> None:
    """The files do not answer: it waits for them, and this attempt does not count.

    Not for ever: after ``FILES_PATIENCE`` it went wrong like any other.
    """
    if taken.sheet.requested_at < now - FILES_PATIENCE:
        put_back_sheet(taken=taken, error=error)
        return
    with writing():
        _still(taken).update(
            status=Status.QUEUED, error=error, lease_until=None, attempt=F("attempt") - 1
        )


def give_up_lost_sheet(*, sheet: Sheet, error: str) -> None:
    """It is done, but its file is not there: who asks again gets a new one."""
    with writing():
        lost = Sheet.objects.filter(pk=sheet.pk, status=Status.DONE, file=sheet.file.name)
        lost.update(status=Status.FAILED, error=error)


def resend_sheets(*, error: str, now: datetime) -> int:
    """Queue again what nobody looks after, and say how many.

    Their message was lost, or never left, or their worker died. ``error`` is for those that
    were tried often enough.
    """
    if not Sheet.objects.unattended(now).exists():
        return 0  # as nearly always: then nobody need wait for a lock
    with writing():
        rows = hold_unattended_sheets(now)
        given_up = [sheet.pk for sheet in rows if sheet.attempt >= MOST_ATTEMPTS]
        again = [sheet for sheet in rows if sheet.attempt < MOST_ATTEMPTS]
        Sheet.objects.filter(pk__in=given_up).update(
            status=Status.FAILED, error=error, lease_until=None
        )
        Sheet.objects.filter(pk__in=[sheet.pk for sheet in again]).update(
            status=Status.QUEUED, lease_until=now + MESSAGE_PATIENCE
        )
        _send(again)
    return len(again)


def file_name(sheet: Sheet, attempt: int) -> str:
    """Where an attempt keeps its document, in the storage of ``Sheet.file``."""
    return f"sheets/{sheet.pk}-{attempt}.pdf"


def clear_away(sheet: Sheet, attempts: Iterable[int]) -> None:
    """Remove what these attempts have left in the storage."""
    for attempt in attempts:
        Sheet.file.field.storage.delete(file_name(sheet, attempt))


def forget_old_sheets(*, before: datetime) -> int:
    """Remove sheets that were asked for before then, with their files, and say how many."""
    old = Sheet.objects.filter(requested_at__lt=before)
    for sheet in old:
        # The file first: if we are stopped in between, the row is still there to be removed.
        clear_away(sheet, range(1, sheet.attempt + 1))
        with writing():
            Sheet.objects.filter(pk=sheet.pk).delete()
    return len(old)


def forget_lost_sheets(files: Iterable[str]) -> None:
    """Remove the sheets of these files, which are no more; they can be asked for anew."""
    with writing():
        Sheet.objects.filter(file__in=list(files)).delete()


def _still(taken: Taken) -> QuerySet[Sheet]:
    return Sheet.objects.filter(pk=taken.sheet.pk, attempt=taken.attempt, status=Status.RENDERING)


def _come_forward(sheet: Sheet, now: datetime) -> bool:
    """Whether this sheet was in a batch and is now before it; a second message does no harm."""
    behind = Sheet.objects.filter(pk=sheet.pk, in_batch=True, status=Status.QUEUED)
    sheet.in_batch = False
    return behind.update(in_batch=False, lease_until=now + MESSAGE_PATIENCE) > 0


def _send(sheets: Iterable[Sheet]) -> None:
    """Tell the workers once this is committed; what they do not hear of, the sweep sends again."""
    for sheet in sheets:
        queue = settings.BATCHES if sheet.in_batch else settings.SOON
        tell_workers(RENDER, queue=queue, sheet_id=sheet.pk)
