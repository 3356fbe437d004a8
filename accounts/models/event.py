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


class _Count(models.Subquery):
    """How many rows a query finds, within another one."""

    template = "(SELECT COUNT(*) FROM (%(subquery)s) counted)"
    output_field = models.IntegerField()


class EventQuerySet(models.QuerySet["Event"]):
    """Events can be noted and read; nothing removes them, or changes more than a name in them."""

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

    def revision(self) -> str:
        """Changes with every event that is added to these; in one query.

        The count tells apart what the newest event alone would not: two events may be committed
        in the other order than they were numbered. Its moment does so after a restore, where
        numbers are given again.
        """
        count = _Count(self.order_by().values("pk"))
        newest = self.order_by("-pk").values_list("pk", "at", count).first()
        if newest is None:
            return "0-0"
        number, at, so_many = newest
        return f"{number}-{so_many}-{at.timestamp():.6f}"

    def forget_name(self, member: Member) -> None:
        """Let the log tell of ``member`` by id where earlier days wrote their name out.

        Such a name was left where two people of the circle had it: whoever did something alone,
        and bears it too, is meant by it themselves.
        """
        for fact in ("member", "to"):
            written = self.filter(circle=member.circle_id, **{f"facts__{fact}": member.name})
            for event in written.select_related("by"):
                meant = event.by if event.by and event.by.name == member.name else member
                event.facts = {**event.facts, fact: meant.pk}
                event.save(update_fields=["facts"])

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
