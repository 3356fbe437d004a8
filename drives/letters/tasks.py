"""What the clock and the workers do with letters. A message carries only the id of a row."""

from celery import shared_task
from django.conf import settings
from django.utils import timezone

from drives.actions.circles import letters

from .post import deliver
from .schedule import queue_due

MOST_SECONDS = 120
SWEEP_SECONDS = 60


@shared_task
def queue_letters() -> None:
    """Queue what is due by the circles' clocks."""
    queue_due(timezone.now())


@shared_task
def send_letters() -> None:
    """A message for each letter that can be sent: it is tried again, or its message was lost."""
    for letter_id in letters.ready_letters(timezone.now()).values_list("pk", flat=True):
        # While the workers are away or busy these do not pile up.
        mail_letter.apply_async(kwargs={"letter_id": letter_id}, expires=SWEEP_SECONDS)


@shared_task(soft_time_limit=MOST_SECONDS, time_limit=MOST_SECONDS + 15)
def mail_letter(*, letter_id: int) -> None:
    """Send one letter; of many deliveries one does it."""
    deliver(letter_id, timezone.now())


@shared_task
def forget_letters() -> None:
    """Remove old letters."""
    letters.forget_old_letters(before=timezone.now() - settings.KEPT["letters"])
