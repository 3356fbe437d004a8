"""The log: who did what to what, when, with the facts."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any, NoReturn

from django.db import models
from django.utils.translation import gettext_lazy

from accounts.models.circle import Circle
from accounts.models.member import Member


class Topic(models.TextChoices):
    """The kind of row that an event is about."""

    CIRCLE = "circle", gettext_lazy("circle")
    DRIVE = "drive", gettext_lazy("drive")
    BLANKET = "blanket", gettext_lazy("blanket")


class EventQuerySet(models.QuerySet["Event"]):
    """Events can be noted and read; nothing changes or removes them."""

    def note(
        self,
        *,
        circle: Circle,
        by: Member | None,
        verb: str,
        topic: str,
        topic_id: int,
        facts: Mapping[str, Any],
        at: datetime,
    ) -> Event:
        """Append one event; ``by`` None is the site itself, ``facts`` must be JSON."""
        return self.create(
            circle=circle,
            by=by,
            verb=verb,
            topic=topic,
            topic_id=topic_id,
            facts=dict(facts),
            at=at,
        )

    def about(self, topic: str, topic_id: int) -> EventQuerySet:
        """The events of one row, newest first."""
        return self.filter(topic=topic, topic_id=topic_id)

    def update(self, **kwargs: Any) -> NoReturn:
        """Refused: the log is append-only."""
        raise TypeError("events are never changed")

    def delete(self) -> NoReturn:
        """Refused: the log is append-only."""
        raise TypeError("events are never removed")


class Event(models.Model):
    """Something that happened; ``verb`` is a slug such as ``finished``."""

    circle = models.ForeignKey(Circle, models.PROTECT, related_name="events")
    by = models.ForeignKey(Member, models.PROTECT, related_name="events", null=True)
    verb = models.SlugField(gettext_lazy("verb"))
    topic = models.CharField(max_length=8, choices=Topic)
    topic_id = models.BigIntegerField()
    facts = models.JSONField(default=dict)
    at = models.DateTimeField(gettext_lazy("when"))

    objects = EventQuerySet.as_manager()

    class Meta:
        ordering = ["-id"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(topic__in=Topic.values), name="event_topic_known"
            ),
        ]
        indexes = [models.Index(fields=["topic", "topic_id", "-id"], name="events_by_topic")]

    def __str__(self) -> str:
        return f"{self.verb} {self.topic} {self.topic_id}"
