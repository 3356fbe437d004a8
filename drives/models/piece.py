"""Connected fabrics, and who has them."""

from __future__ import annotations

from datetime import datetime

from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy

from accounts.models import Member

from .blanket import Blanket
from .ended import ended_says_how


class PieceEnding(models.TextChoices):
    """How a piece ended."""

    MERGED = "merged", gettext_lazy("joined to another")
    RIPPED = "ripped", gettext_lazy("ripped back")
    LOST = "lost", gettext_lazy("lost")


class PieceQuerySet(models.QuerySet["Piece"]):
    """Pieces, by how they stand."""

    def live(self) -> PieceQuerySet:
        return self.filter(ended_at=None)


class Piece(models.Model):
    """Squares that are finished and joined, in the hands of ``holder`` (null: with the circle).

    ``name`` is the place of its first square when it began; a merged piece keeps the older name.
    """

    blanket = models.ForeignKey(Blanket, models.CASCADE, related_name="pieces")
    name = models.CharField(gettext_lazy("name"), max_length=5)
    holder = models.ForeignKey(Member, models.PROTECT, related_name="pieces", null=True)
    begun_at = models.DateTimeField(gettext_lazy("begun"))
    ended_at = models.DateTimeField(gettext_lazy("ended"), null=True)
    ending = models.CharField(
        gettext_lazy("how it ended"), max_length=6, choices=PieceEnding, blank=True
    )

    objects = PieceQuerySet.as_manager()

    class Meta:
        ordering = ["begun_at", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["blanket", "name"],
                condition=Q(ended_at=None),
                name="one_live_piece_per_name",
            ),
            ended_says_how(PieceEnding, name="ended_piece_says_how"),
        ]

    def __str__(self) -> str:
        return self.name


class HandOverWay(models.TextChoices):
    """How a piece gets from one to the other."""

    HAND = "hand", gettext_lazy("by hand")
    MEETING = "meeting", gettext_lazy("at a meeting")
    POST = "post", gettext_lazy("by post")


class HandOverQuerySet(models.QuerySet["HandOver"]):
    """Hand-overs, by how they stand."""

    def open(self) -> HandOverQuerySet:
        """Arranged or on their way."""
        return self.filter(ended_at=None)

    def sent(self) -> HandOverQuerySet:
        """On their way."""
        return self.open().filter(sent_at__isnull=False)

    def end(self, now: datetime, received: bool = False) -> int:
        """End these: what the two told each other is wiped with it. Answers how many."""
        nothing = {"giver_contact": "", "receiver_contact": "", "note": ""}
        return self.update(ended_at=now, received=received, **nothing)


class HandOver(models.Model):
    """A piece that goes from ``giver`` (null: the circle) to ``receiver``.

    It is arranged, on its way from ``sent_at``, and ended: received or cancelled. The contacts
    are what each of the two chose to tell the other, and are wiped when it ends.
    """

    piece = models.ForeignKey(Piece, models.CASCADE, related_name="hand_overs")
    giver = models.ForeignKey(Member, models.PROTECT, related_name="given", null=True)
    receiver = models.ForeignKey(Member, models.PROTECT, related_name="received")
    way = models.CharField(
        gettext_lazy("how"), max_length=7, choices=HandOverWay, default=HandOverWay.HAND
    )
    day = models.DateField(gettext_lazy("on"), null=True)
    arranged_at = models.DateTimeField(gettext_lazy("arranged"))
    sent_at = models.DateTimeField(gettext_lazy("sent"), null=True)
    note = models.CharField(gettext_lazy("tracking note"), max_length=200, blank=True)
    ended_at = models.DateTimeField(gettext_lazy("ended"), null=True)
    received = models.BooleanField(gettext_lazy("received"), default=False)
    giver_contact = models.CharField(max_length=300, blank=True)
    receiver_contact = models.CharField(max_length=300, blank=True)

    objects = HandOverQuerySet.as_manager()

    class Meta:
        ordering = ["-arranged_at", "-id"]
        constraints = [
            models.UniqueConstraint(
                fields=["piece"], condition=Q(ended_at=None), name="one_open_hand_over_per_piece"
            ),
            models.CheckConstraint(
                condition=Q(giver=None) | ~Q(giver=F("receiver")),
                name="hand_over_between_two_people",
            ),
            models.CheckConstraint(
                condition=Q(ended_at=None) | Q(giver_contact="", receiver_contact="", note=""),
                name="ended_hand_over_tells_no_contacts",
            ),
            models.CheckConstraint(
                condition=Q(received=False) | Q(ended_at__isnull=False),
                name="received_hand_over_has_ended",
            ),
            models.CheckConstraint(
                condition=Q(way__in=HandOverWay.values), name="hand_over_way_known"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.piece} → {self.receiver}"


class TurnQuerySet(models.QuerySet["Turn"]):
    """Turns, by how they stand."""

    def waiting(self) -> TurnQuerySet:
        """Those still in line, the first first."""
        return self.filter(ended_at=None).order_by("asked_at", "pk")

    def end(self, ending: TurnEnding, now: datetime) -> int:
        """End these; answers how many."""
        return self.update(ended_at=now, ending=ending)


class TurnEnding(models.TextChoices):
    """How a wait ended."""

    SERVED = "served", gettext_lazy("got the piece")
    WITHDRAWN = "withdrawn", gettext_lazy("gave it up")
    MOOT = "moot", gettext_lazy("the piece is no more")


class Turn(models.Model):
    """A member in line for a piece; the first who asked is first."""

    piece = models.ForeignKey(Piece, models.CASCADE, related_name="turns")
    member = models.ForeignKey(Member, models.PROTECT, related_name="turns")
    asked_at = models.DateTimeField(gettext_lazy("asked"))
    ended_at = models.DateTimeField(gettext_lazy("ended"), null=True)
    ending = models.CharField(
        gettext_lazy("how it ended"), max_length=9, choices=TurnEnding, blank=True
    )

    objects = TurnQuerySet.as_manager()

    class Meta:
        ordering = ["asked_at", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["piece", "member"],
                condition=Q(ended_at=None),
                name="once_in_line_per_piece_and_member",
            ),
            ended_says_how(TurnEnding, name="ended_turn_says_how"),
        ]

    def __str__(self) -> str:
        return f"{self.member} · {self.piece}"
