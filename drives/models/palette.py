"""The colours of a blanket, in their order."""

from django.core.validators import RegexValidator
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from .blanket import Blanket


class Colour(models.Model):
    """A colour of a blanket's colour plan, in the ``position`` that its pattern uses.

    Its yarn is what the circle's store has under the same name; where the store has none, somebody
    brings their own (``own``), and it is there without limit. ``at_most``: squares, null for any
    number.
    """

    blanket = models.ForeignKey(Blanket, models.CASCADE, related_name="palette")
    position = models.PositiveSmallIntegerField()
    name = models.CharField(_("colour"), max_length=40)
    value = models.CharField(
        _("how it looks"), max_length=7, validators=[RegexValidator(r"^#[0-9a-f]{6}$")]
    )
    own = models.BooleanField(_("brought along"), default=False)
    at_most = models.PositiveIntegerField(_("squares at most"), null=True, blank=True)

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
