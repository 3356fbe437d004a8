"""One member's hold on one square."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy

from accounts.models import Member

from .ended import ended_says_how
from .square import Square


class Ending(models.TextChoices):
    """How a claim ended."""

    FINISHED = "finished", gettext_lazy("finished")
    GIVEN_BACK = "given back", gettext_lazy("given back")
    LAPSED = "lapsed", gettext_lazy("lapsed")
    RELEASED = "released", gettext_lazy("released")


class ClaimQuerySet(models.QuerySet["Claim"]):
    """Claims, by how they stand."""

    def open(self) -> ClaimQuerySet:
        return self.filter(ended_at=None)

    def overdue(self, now: datetime) -> ClaimQuerySet:
        """Open and past their due date."""
        return self.open().filter(due_at__lt=now)


class Claim(models.Model):
    """From taking a square to finishing it or letting it go.

    ``rows_done`` is the knitter's row counter. ``reminded_at`` is set once for each due date.
    """

    square = models.ForeignKey(Square, models.CASCADE, related_name="claims")
    member = models.ForeignKey(Member, models.PROTECT, related_name="claims")
    taken_at = models.DateTimeField(gettext_lazy("taken"))
    due_at = models.DateTimeField(gettext_lazy("due"))
    rows_done = models.PositiveSmallIntegerField(gettext_lazy("rows done"), default=0)
    reminded_at = models.DateTimeField(gettext_lazy("reminded"), null=True)
    ended_at = models.DateTimeField(gettext_lazy("ended"), null=True)
    ending = models.CharField(
        gettext_lazy("how it ended"), max_length=10, choices=Ending, blank=True
    )

    objects = ClaimQuerySet.as_manager()

    class Meta:
        ordering = ["due_at", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["square"], condition=Q(ended_at=None), name="one_open_claim_per_square"
            ),
            ended_says_how(Ending, name="ended_claim_says_how"),
            models.CheckConstraint(
                condition=Q(due_at__gt=F("taken_at")), name="claim_due_after_taken"
            ),
        ]
        indexes = [
            models.Index(
                fields=["member"], condition=Q(ended_at=None), name="open_claims_by_member"
            ),
            models.Index(
                fields=["due_at"], condition=Q(ended_at=None), name="open_claims_by_due_date"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.member} · {self.square}"

    def late(self, now: datetime) -> bool:
        return self.ended_at is None and self.due_at < now

    def lapses_at(self, grace_days: int) -> datetime:
        """When a late claim lapses by itself."""
        return self.due_at + timedelta(days=grace_days)
