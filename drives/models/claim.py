"""One member's hold on one square."""

from __future__ import annotations

from datetime import datetime

from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy

from accounts.models import Member
from shared.basics.days import DAY, day_of, ends

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
        """Open, and their due day is over."""
        return self.open().filter(due_at__lt=now)


class Claim(models.Model):
    """From taking a square to finishing it or letting it go.

    ``due_at`` is the last moment of the day on which it is due, by the circle's clock: a square is
    late from the next day on. ``rows_done`` is the knitter's row counter. ``reminded_at`` is set
    once for each due date.
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

    @property
    def lapses_at(self) -> datetime:
        """When a late claim lapses by itself: with the last of its drive's days of grace.

        Wants the claim with its drive and circle loaded.
        """
        drive = self.square.blanket.drive
        zone = drive.circle.zone
        return ends(day_of(self.due_at, zone) + drive.grace_days * DAY, zone)
