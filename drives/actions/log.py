"""Notes in the log."""

from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.utils.timezone import localtime

from accounts.models import Circle, Event, Member, Topic
from drives.models import Blanket, Drive


def note_circle(circle: Circle, by: Member | None, verb: str, now: datetime, **facts: Any) -> None:
    Event.objects.note(
        circle=circle,
        by=by,
        verb=verb,
        topic=Topic.CIRCLE,
        topic_id=circle.pk,
        facts=facts,
        at=now,
    )


def note_drive(drive: Drive, by: Member | None, verb: str, now: datetime, **facts: Any) -> None:
    Event.objects.note(
        circle=drive.circle,
        by=by,
        verb=verb,
        topic=Topic.DRIVE,
        topic_id=drive.pk,
        facts=facts,
        at=now,
    )


def note_blanket(
    blanket: Blanket, by: Member | None, verb: str, now: datetime, **facts: Any
) -> None:
    Event.objects.note(
        circle=blanket.drive.circle,
        by=by,
        verb=verb,
        topic=Topic.BLANKET,
        topic_id=blanket.pk,
        facts=facts,
        at=now,
    )


def circle_day(blanket: Blanket, moment: datetime) -> str:
    """The date of ``moment`` by the circle's clock, in ISO 8601."""
    return localtime(moment, ZoneInfo(blanket.drive.circle.time_zone)).date().isoformat()
