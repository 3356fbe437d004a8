"""The events of a circle."""

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from accounts.models import Event, Member, Topic


def note_event(by: Member, verb: str, facts: Mapping[str, Any], now: datetime) -> None:
    """One event about ``by``'s circle; ``facts`` hold no contact details, the log is for good."""
    Event.objects.note(
        circle=by.circle,
        by=by,
        verb=verb,
        topic=Topic.CIRCLE,
        topic_id=by.circle_id,
        facts=facts,
        at=now,
    )
