"""The circle of these tests, its blankets, and a postman who comes when told."""

from datetime import datetime

import pytest
from django.core import mail
from django.core.mail import EmailMessage
from pytest_django import Settings

from accounts.models import Circle
from drives.actions.circles.letters import ready_letters
from drives.letters.post import deliver
from drives.letters.schedule import queue_due
from drives.models import Letter


@pytest.fixture(autouse=True)
def _a_site_of_its_own(settings: Settings, own_files: None) -> None:
    settings.SITE_URL = "https://blankets.example"


def post(now: datetime) -> list[EmailMessage]:
    """The clock strikes, and the postman takes what is ready: what was sent by that."""
    before = len(mail.outbox)
    queue_due(now)
    collect(now)
    return mail.outbox[before:]


def collect(now: datetime) -> None:
    """The postman takes what is ready."""
    for letter_id in list(ready_letters(now).values_list("pk", flat=True)):
        deliver(letter_id, now)


def move(circle: Circle, **changed: str) -> None:
    """The circle lives by another clock, or speaks otherwise."""
    Circle.objects.filter(pk=circle.pk).update(**changed)


def fates() -> list[str]:
    """What became of each letter, the oldest first."""
    return [_fate(letter) for letter in Letter.objects.all()]


def _fate(letter: Letter) -> str:
    if letter.sent_at:
        return "sent"
    if letter.dropped_at:
        return "dropped"
    return "waiting" if letter.taken_at is None else "in hand"
