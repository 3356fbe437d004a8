"""The colours of a blanket, in their order."""

from django.core.validators import RegexValidator
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy

from .blanket import Blanket


class Colour(models.Model):
    """A colour of a blanket's colour plan, in the ``position`` that its pattern uses.

    Its yarn is what the circle's store has under the same name; where the store has none, somebody
    brings their own (``own``), and it is there without limit. ``at_most``: squares, null for any
    number.
    """

    blanket = models.ForeignKey(Blanket, models.CASCADE, related_name="palette")
    position = models.PositiveSmallIntegerField()
    name = models.CharField(gettext_lazy("colour"), max_length=40)
    value = models.CharField(
        gettext_lazy("how it looks"), max_length=7, validators=[RegexValidator(r"^#[0-9a-f]{6}$")]
    )
    own = models.BooleanField(gettext_lazy("brought along"), default=False)
    at_most = models.PositiveIntegerField(gettext_lazy("squares at most"), null=True, blank=True)

    class Meta:
        ordering = ["position", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["blanket", "name"], name="one_colour_per_blanket_and_name"
            ),
            models.CheckConstraint(condition=~Q(name=""), name="colour_has_a_name"),
        ]

    def __str__(self) -> str:
        return self.name
