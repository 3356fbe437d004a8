"""Days that a plan must know: when the circle meets, and when somebody is away."""

from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy

from accounts.models import Member

from .drive import Drive


class Meeting(models.Model):
    """A day on which the people of a drive meet, and pieces can change hands."""

    drive = models.ForeignKey(Drive, models.CASCADE, related_name="meetings")
    day = models.DateField(gettext_lazy("day"))

    class Meta:
        ordering = ["day"]
        constraints = [
            models.UniqueConstraint(fields=["drive", "day"], name="one_meeting_per_drive_and_day"),
        ]

    def __str__(self) -> str:
        return str(self.day)


class Absence(models.Model):
    """Days, the first and the last included, on which a member does not knit."""

    member = models.ForeignKey(Member, models.CASCADE, related_name="absences")
    first = models.DateField(gettext_lazy("from"))
    last = models.DateField(gettext_lazy("until"))

    class Meta:
        ordering = ["first", "id"]
        constraints = [
            models.CheckConstraint(
                condition=Q(last__gte=F("first")), name="absence_ends_after_it_begins"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.member}: {self.first} – {self.last}"
