"""How it is reckoned what is to be bought for a blanket."""

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy

from .blanket import Blanket

CERTAINTIES = (50, 80, 90, 95)
MOST_RIDGES = 100
USUAL_CERTAINTY = 90
USUAL_PACKAGING = 200  # grams of a cardboard box for a blanket, or less in a bag (common practice)


class Buying(models.Model):
    """With how much ``certainty``, in per cent, and for what beside the squares.

    A border of so many ridges of garter stitch in ``border_colour``; seams are sewn in
    ``seam_colour``. ``packaging``: grams of what the blanket is sent in. ``postage``: what it
    costs to send, in the circle's currency, null where nobody has told. Without such a row the
    defaults count.
    """

    blanket = models.OneToOneField(Blanket, models.CASCADE, related_name="buying")
    certainty = models.PositiveSmallIntegerField(
        gettext_lazy("certainty"),
        choices=[(each, f"{each} %") for each in CERTAINTIES],
        default=USUAL_CERTAINTY,
    )
    border_ridges = models.PositiveSmallIntegerField(gettext_lazy("ridges of border"), default=0)
    border_colour = models.CharField(
        gettext_lazy("colour of the border"), max_length=40, blank=True
    )
    seam_colour = models.CharField(gettext_lazy("colour of the seams"), max_length=40, blank=True)
    packaging = models.PositiveIntegerField(
        gettext_lazy("grams of packaging"), default=USUAL_PACKAGING
    )
    postage = models.DecimalField(
        gettext_lazy("postage"), max_digits=8, decimal_places=2, null=True, blank=True
    )

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(certainty__in=CERTAINTIES), name="buying_certainty_known"
            ),
            models.CheckConstraint(
                condition=Q(border_ridges__lte=MOST_RIDGES)
                & Q(packaging__lte=100_000)
                & (Q(postage=None) | Q(postage__gte=0)),
                name="buying_within_limits",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.blanket}"
