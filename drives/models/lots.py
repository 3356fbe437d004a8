"""The yarn of a blanket: which dye lots it is knitted in, and what is kept back for it."""

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy

from drives.craft.yarn.lots import LotWay

from .blanket import Blanket
from .yarn import Yarn

LOT_WAYS = {
    LotWay.NEVER_SIDE_BY_SIDE: gettext_lazy("never side by side"),
    LotWay.AT_A_SEAM: gettext_lazy("changed at a seam"),
}


class LotChoice(models.Model):
    """The ``yarns`` of one ``colour`` that count together for a blanket, and how they meet.

    Two or more of one thickness and the same fibres; without such a row one lot counts alone.
    """

    blanket = models.ForeignKey(Blanket, models.CASCADE, related_name="lot_choices")
    colour = models.CharField(gettext_lazy("colour"), max_length=40)
    way = models.CharField(gettext_lazy("how they meet"), max_length=18, choices=LOT_WAYS)
    yarns = models.ManyToManyField(Yarn, related_name="lot_choices")

    class Meta:
        ordering = ["blanket", "colour"]
        constraints = [
            models.UniqueConstraint(
                fields=["blanket", "colour"], name="one_lot_choice_per_blanket_and_colour"
            ),
            models.CheckConstraint(condition=Q(way__in=list(LotWay)), name="lot_way_known"),
        ]

    def __str__(self) -> str:
        return f"{self.blanket}: {self.colour}"


class Reservation(models.Model):
    """``grams`` of a yarn, in the store or in members' hands, that are kept for a ``blanket``.

    Those of all blankets together are never more than there is, which its yarn's lock keeps so.
    ``to_come`` grams more are to be bought for it: colour plans place them, nothing else counts
    them, and as they are received they become ``grams``.
    """

    blanket = models.ForeignKey(Blanket, models.CASCADE, related_name="reservations")
    yarn = models.ForeignKey(Yarn, models.PROTECT, related_name="reservations")
    grams = models.PositiveIntegerField(gettext_lazy("grams"), default=0)
    to_come = models.PositiveIntegerField(gettext_lazy("grams to be bought"), default=0)

    class Meta:
        ordering = ["blanket", "yarn"]
        constraints = [
            models.UniqueConstraint(
                fields=["blanket", "yarn"], name="one_reservation_per_blanket_and_yarn"
            ),
            models.CheckConstraint(
                condition=Q(grams__gt=0) | Q(to_come__gt=0), name="reservation_reserves_something"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.blanket}: {self.grams} g {self.yarn}"
