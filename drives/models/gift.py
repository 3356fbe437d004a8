"""What the receiver is told about a finished blanket."""

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from .blanket import Blanket


class Gift(models.Model):
    """The gift record's facts, as far as known; lengths in cm, measured on the finished blanket.

    ``care`` holds a value of ``drives.craft.care`` for each of its treatments that is known.
    """

    blanket = models.OneToOneField(Blanket, models.CASCADE, related_name="gift")
    width = models.DecimalField(_("width"), max_digits=5, decimal_places=1, null=True, blank=True)
    height = models.DecimalField(_("height"), max_digits=5, decimal_places=1, null=True, blank=True)
    fibres = models.CharField(_("fibres"), max_length=200, blank=True)
    care = models.JSONField(_("care"), default=dict, blank=True)
    given_on = models.DateField(_("handed over on"), null=True, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=(Q(width=None) | Q(width__gt=0)) & (Q(height=None) | Q(height__gt=0)),
                name="gift_lengths_positive",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.blanket}"
