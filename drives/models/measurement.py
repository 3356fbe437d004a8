"""How loosely a member knits: what they measured."""

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy

from accounts.models import Member

from .blanket import Blanket
from .square import Square


class Measurement(models.Model):
    """``stitches`` are ``width`` cm wide, ``ridges`` ``height`` cm high, in a square or swatch.

    ``square`` null is a swatch. ``needle`` in mm, null where it was not told.
    """

    member = models.ForeignKey(Member, models.PROTECT, related_name="measurements")
    blanket = models.ForeignKey(Blanket, models.CASCADE, related_name="measurements")
    square = models.ForeignKey(Square, models.CASCADE, related_name="measurements", null=True)
    stitches = models.PositiveSmallIntegerField(gettext_lazy("stitches"))
    width = models.DecimalField(gettext_lazy("width in cm"), max_digits=5, decimal_places=1)
    ridges = models.PositiveSmallIntegerField(gettext_lazy("ridges"))
    height = models.DecimalField(gettext_lazy("height in cm"), max_digits=5, decimal_places=1)
    needle = models.DecimalField(
        gettext_lazy("needle in mm"), max_digits=4, decimal_places=2, null=True, blank=True
    )
    measured_at = models.DateTimeField(gettext_lazy("measured"))

    class Meta:
        ordering = ["id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(stitches__gt=0, width__gt=0, ridges__gt=0, height__gt=0),
                name="measurement_positive",
            ),
            models.CheckConstraint(
                condition=Q(needle=None) | Q(needle__gt=0), name="needle_positive"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.member}: {self.stitches} in {self.width} cm"
