"""What workers do with sheets. The row is the truth; a message carries only its id."""

import logging
from collections.abc import Callable, Iterator
from contextlib import contextmanager

from celery import shared_task
from celery.exceptions import SoftTimeLimitExceeded
from django.conf import settings
from django.core.files.base import ContentFile
from django.utils import timezone

from drives.actions.paper import sheets
from drives.actions.paper.sheets import Taken
from drives.models import Sheet
from drives.models.sheet import LEASE, Trouble
from shared.storage.files import FilesAway
from shared.workers.lease import held

from . import renewal
from .foretell import foretell
from .kind import LookAhead
from .kinds import KINDS

logger = logging.getLogger(__name__)

MOST_SECONDS = 300  # for the largest blankets; the second limit kills what the first cannot stop
BEAT_SECONDS = LEASE.total_seconds() / 4


class NotOurs(Exception):
    """Somebody else has taken the sheet from us meanwhile."""


@shared_task(soft_time_limit=MOST_SECONDS, time_limit=MOST_SECONDS + 15)
def render_sheet(*, sheet_id: int) -> None:
    """Make the document whose turn it is; of many deliveries one does it."""
    taken = sheets.take_next_sheet(sheet_id=sheet_id, now=timezone.now())
    if taken is None:
        return
    try:
        _make(taken)
    except NotOurs:
        logger.info("sheet %d: attempt %d came too late", taken.sheet.pk, taken.attempt)
    except FilesAway as problem:
        logger.error("sheet %d waits for the files: %s", taken.sheet.pk, problem)
        sheets.keep_for_files(taken=taken, error=Trouble.NOT_STORED, now=timezone.now())
    except Exception as problem:
        logger.exception("sheet %d: attempt %d failed", taken.sheet.pk, taken.attempt)
        sheets.put_back_sheet(taken=taken, error=_trouble(problem))


@shared_task
def sweep_sheets() -> None:
    """Send again what nobody looks after: its message was lost, or its worker died."""
    sheets.resend_sheets(error=Trouble.STOPPED, now=timezone.now())


@shared_task
def renew_rotas() -> None:
    """Have rotas made anew where something has happened."""
    renewal.renew_rotas(timezone.now())


@shared_task
def forget_sheets() -> None:
    """Remove old documents."""
    sheets.forget_old_sheets(before=timezone.now() - settings.KEPT["documents"])


def _make(taken: Taken) -> None:
    if isinstance(KINDS[taken.sheet.kind], LookAhead):
        _foretell(taken)
    else:
        _print(taken)


def _foretell(taken: Taken) -> None:
    with _held(taken) as progress:
        foretold = foretell(taken.sheet, now=timezone.now(), progress=progress)
    if not sheets.finish_sheet(taken=taken, foretold=foretold, now=timezone.now()):
        raise NotOurs


def _print(taken: Taken) -> None:
    # Only now: importing the renderer takes half a second and is nothing for the web server.
    from drives.sheets.render import render

    storage = Sheet.file.field.storage
    # Each attempt has a file of its own: one that was cut short never passes for another's.
    name = sheets.file_name(taken.sheet, taken.attempt)
    with _held(taken) as progress:
        storage.delete(name)  # before anything is made that could not be kept
        made = render(taken.sheet, now=timezone.now(), progress=progress)
        name = storage.save(name, ContentFile(made))
    if not sheets.finish_sheet(taken=taken, file=name, now=timezone.now()):
        storage.delete(name)
        raise NotOurs
    sheets.clear_away(taken.sheet, range(1, taken.attempt))


@contextmanager
def _held(taken: Taken) -> Iterator[Callable[[int], None]]:
    """Hold the sheet for as long as this process lives, however long a step takes.

    Answers what tells the progress, which raises ``NotOurs`` when somebody else has the sheet.
    """
    reached = 0

    def beat() -> None:
        sheets.report_progress(taken=taken, progress=reached, now=timezone.now())

    def progress(percent: int) -> None:
        nonlocal reached
        reached = percent
        if not sheets.report_progress(taken=taken, progress=percent, now=timezone.now()):
            raise NotOurs

    with held(beat, every=BEAT_SECONDS):
        yield progress


def _trouble(problem: Exception) -> Trouble:
    match problem:
        case SoftTimeLimitExceeded():
            return Trouble.SLOW
        case OSError():
            return Trouble.NOT_STORED
        case _:
            return Trouble.OURS
