"""What the receiver is told about a finished blanket."""

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy

from drives.craft.receivers.blanket_rules import FinishedFacts

from .blanket import Blanket


class Gift(models.Model):
    """The gift record's facts, as far as known; lengths in cm, measured on the finished blanket.

    ``fibres`` as in ``craft.fibre.notation``, ``care`` as in ``told_care``. The questions are null
    where nobody has looked yet.
    """

    blanket = models.OneToOneField(Blanket, models.CASCADE, related_name="gift")
    width = models.DecimalField(
        gettext_lazy("width"), max_digits=5, decimal_places=1, null=True, blank=True
    )
    height = models.DecimalField(
        gettext_lazy("height"), max_digits=5, decimal_places=1, null=True, blank=True
    )
    fibres = models.CharField(gettext_lazy("fibres"), max_length=200, blank=True)
    care = models.JSONField(gettext_lazy("care"), default=dict, blank=True)
    given_on = models.DateField(gettext_lazy("handed over on"), null=True, blank=True)

    holes = models.BooleanField(gettext_lazy("has holes"), null=True, blank=True)
    fringe = models.BooleanField(gettext_lazy("has a fringe"), null=True, blank=True)
    washed = models.BooleanField(gettext_lazy("has been washed"), null=True, blank=True)
    smoke_free = models.BooleanField(
        gettext_lazy("comes from homes without smoke"), null=True, blank=True
    )
    pet_free = models.BooleanField(gettext_lazy("is free from pet hair"), null=True, blank=True)
    label = models.BooleanField(gettext_lazy("has a label"), null=True, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=(Q(width=None) | Q(width__gt=0)) & (Q(height=None) | Q(height__gt=0)),
                name="gift_lengths_positive",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.blanket}"

    @property
    def facts(self) -> FinishedFacts:
        """What the receiver's rules are held against."""
        return FinishedFacts(
            width=None if self.width is None else float(self.width),
            height=None if self.height is None else float(self.height),
            holes=self.holes,
            fringe=self.fringe,
            washed=self.washed,
            smoke_free=self.smoke_free,
            pet_free=self.pet_free,
            label=self.label,
        )
