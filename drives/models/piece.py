"""Connected fabrics, who has them, and where they are going."""

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from accounts.models import Member

from .blanket import Blanket


class Piece(models.Model):
    """Squares that are finished and joined. It ends when it is ripped or merged into another.

    ``name`` is the place of its first square when it began; a merged piece keeps the older name.
    """

    blanket = models.ForeignKey(Blanket, models.CASCADE, related_name="pieces")
    name = models.CharField(_("name"), max_length=5)
    holder = models.ForeignKey(Member, models.PROTECT, related_name="pieces", null=True)
    begun_at = models.DateTimeField(_("begun"))
    ended_at = models.DateTimeField(_("ended"), null=True)

    class Meta:
        ordering = ["begun_at", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["blanket", "name"],
                condition=Q(ended_at=None),
                name="one_live_piece_per_name",
            ),
        ]

    def __str__(self) -> str:
        return self.name


class HandOver(models.Model):
    """A piece on its way from one member to another; open until ``received_at``."""

    piece = models.ForeignKey(Piece, models.CASCADE, related_name="hand_overs")
    giver = models.ForeignKey(Member, models.PROTECT, related_name="given", null=True)
    receiver = models.ForeignKey(Member, models.PROTECT, related_name="received")
    arranged_at = models.DateTimeField(_("arranged"))
    sent_at = models.DateTimeField(_("sent"), null=True)
    received_at = models.DateTimeField(_("received"), null=True)

    class Meta:
        ordering = ["-arranged_at", "-id"]
        constraints = [
            models.UniqueConstraint(
                fields=["piece"], condition=Q(received_at=None), name="one_open_hand_over_per_piece"
            ),
            models.CheckConstraint(
                condition=Q(giver=None) | ~Q(giver=models.F("receiver")),
                name="hand_over_between_two_people",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.piece} → {self.receiver}"
