"""What the clock and the workers do with letters. A message carries only the id of a row."""

from celery import shared_task
from django.conf import settings
from django.utils import timezone

from drives.actions.circles import letters
from shared.workers.queue import MOST_AT_ONCE, tell_again

from .post import deliver
from .schedule import queue_due


@shared_task
def queue_letters() -> None:
    """Queue what is due by the circles' clocks."""
    queue_due(timezone.now())


@shared_task
def send_letters() -> None:
    """A message for each letter that can be sent: it is tried again, or its message was lost."""
    ready = letters.ready_letters(timezone.now())
    for letter_id in ready.values_list("pk", flat=True)[:MOST_AT_ONCE]:
        tell_again(mail_letter, letter_id=letter_id)


@shared_task
def mail_letter(*, letter_id: int) -> None:
    """Send one letter; of many deliveries one does it."""
    deliver(letter_id, timezone.now())


@shared_task
def forget_letters() -> None:
    """Remove old letters."""
    letters.forget_old_letters(before=timezone.now() - settings.KEPT["letters"])
