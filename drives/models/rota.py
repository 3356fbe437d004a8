"""What coordinators have said to the rota."""

from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy

from accounts.models import Member

from .square import Square


class RotaLine(models.Model):
    """A square that is planned for a member from the day ``begin`` on; without one, not for them.

    Nobody is bound by it. It counts until somebody takes the square, or it falls away
    (``drives.readings.accepted``).
    """

    square = models.ForeignKey(Square, models.CASCADE, related_name="rota_lines")
    member = models.ForeignKey(Member, models.CASCADE, related_name="rota_lines")
    begin = models.DateField(gettext_lazy("to be begun on"), null=True)
    accepted_at = models.DateTimeField(gettext_lazy("accepted"))

    class Meta:
        ordering = ["begin", "id"]
        constraints = [
            models.UniqueConstraint(
                fields=["square", "member"], name="one_rota_line_per_square_and_member"
            ),
            models.UniqueConstraint(
                fields=["square"],
                condition=Q(begin__isnull=False),
                name="one_member_planned_per_square",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.square}: {self.member}"
