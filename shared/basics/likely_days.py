"""Which days can be meant."""

from datetime import date

from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy

DAYS = date(1900, 1, 1), date(2199, 12, 31)
"""What a blanket, a meeting or a life can be about: days near the end of time cannot be reckoned
with.
"""


def likely_day(day: date) -> None:
    """A validator of fields, of forms and of the API alike. Raises ValidationError."""
    if not DAYS[0] <= day <= DAYS[1]:
        raise ValidationError(
            gettext_lazy("That day looks wrong. Please check it."), "unlikely-day"
        )
