"""Notes in the log."""

from datetime import datetime
from typing import Any

from accounts.models import Circle, Event, Member, Topic
from drives.models import Blanket, Drive
from shared.basics.days import day_of


def note_circle(circle: Circle, by: Member | None, verb: str, now: datetime, **facts: Any) -> None:
    _note(circle, Topic.CIRCLE, circle.pk, by, verb, now, facts)


def note_drive(drive: Drive, by: Member | None, verb: str, now: datetime, **facts: Any) -> None:
    _note(drive.circle, Topic.DRIVE, drive.pk, by, verb, now, facts)


def note_blanket(
    blanket: Blanket, by: Member | None, verb: str, now: datetime, **facts: Any
) -> None:
    _note(blanket.drive.circle, Topic.BLANKET, blanket.pk, by, verb, now, facts)


def circle_day(blanket: Blanket, moment: datetime) -> str:
    """The date of ``moment`` by the circle's clock, in ISO 8601."""
    return day_of(moment, blanket.drive.circle.zone).isoformat()


def _note(
    circle: Circle,
    topic: Topic,
    topic_id: int,
    by: Member | None,
    verb: str,
    now: datetime,
    facts: dict[str, Any],
) -> None:
    Event.objects.note(
        circle=circle, by=by, verb=verb, topic=topic, topic_id=topic_id, facts=facts, at=now
    )
