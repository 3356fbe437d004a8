"""A group of people who make blankets together."""

from zoneinfo import ZoneInfo

from django.core.validators import RegexValidator
from django.db import models
from django.utils.translation import gettext_lazy

from drives.craft.knitter import English


class Units(models.TextChoices):
    """What lengths are told in."""

    CM = "cm", gettext_lazy("centimetres and grams")
    INCH = "in", gettext_lazy("inches, ounces and yards")


ENGLISHES = {
    English.BRITISH: gettext_lazy("British (mitred, tension, cast off)"),
    English.AMERICAN: gettext_lazy("American (mitered, gauge, bind off)"),
}


class Circle(models.Model):
    """A knitting circle, its language, units, English and clock; one that is closed is empty.

    ``currency``: in which it tells prices, a code of ISO 4217, or empty.
    """

    name = models.CharField(gettext_lazy("name"), max_length=100)
    language = models.CharField(gettext_lazy("language"), max_length=10, default="en")
    units = models.CharField(gettext_lazy("units"), max_length=2, choices=Units, default=Units.CM)
    english = models.CharField(
        gettext_lazy("English"), max_length=8, choices=ENGLISHES, default=English.BRITISH
    )
    time_zone = models.CharField(gettext_lazy("time zone"), max_length=64, default="Europe/London")
    currency = models.CharField(
        gettext_lazy("currency"),
        max_length=3,
        blank=True,
        default="",
        validators=[RegexValidator(r"^[A-Z]{3}\Z")],
    )
    created_at = models.DateTimeField(gettext_lazy("made"))
    closed_at = models.DateTimeField(gettext_lazy("closed"), null=True, blank=True)

    class Meta:
        ordering = ["name", "id"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(units__in=Units.values), name="circle_units_known"
            ),
            models.CheckConstraint(
                condition=models.Q(english__in=list(English)),
                name="circle_english_known",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def zone(self) -> ZoneInfo:
        """Its clock."""
        return ZoneInfo(self.time_zone)

    @property
    def locale(self) -> str:
        """Whose words, dates and numbers its pages, documents and letters use."""
        return self.locale_with(self.english)

    def locale_with(self, english: str) -> str:
        """Its locale for a reader who wants to read this English."""
        if self.language != "en":
            return self.language
        return "en-us" if english == English.AMERICAN else "en-gb"
