"""Proposals for panels, as ``drives.readings.foretold`` says what they hold."""

from decimal import Decimal
from typing import Any

from django.utils.translation import gettext_lazy
from rest_framework import serializers

from drives.api.fields import Day, Number, Whole
from drives.readings.foretold import Panels
from drives.sheets.kinds.panels import MOST_VOLUNTEERS

from .bodies import Body
from .typed import shape

WHO = gettext_lazy("People who knit.")
WANTED = gettext_lazy("The day that is to be kept.")
PACE = gettext_lazy("Days for a square; without it as everybody’s own squares tell.")
HAND_OVER = gettext_lazy("Days for a hand-over of what travels; without it as those so far tell.")
MEETING = gettext_lazy("The next meeting; what travels then changes hands only at meetings.")
EVERY = gettext_lazy("Days from meeting to meeting; 28 without it.")


class SupposedBody(Body):
    """For whom and until when; the last three are for pieces that travel alone."""

    volunteers = Whole(1, MOST_VOLUNTEERS, help_text=WHO)
    wanted = Day(required=False, allow_null=True, help_text=WANTED)
    pace = Number(0.1, 365, required=False, allow_null=True, help_text=PACE)
    hand_over_days = Number(0, 60, required=False, allow_null=True, help_text=HAND_OVER)
    meeting = Day(required=False, allow_null=True, help_text=MEETING)
    every = Whole(1, 365, required=False, allow_null=True, help_text=EVERY)


def _days(low: str, high: int, help_text: Any) -> serializers.DecimalField:
    """Of a query, in which numbers are digits."""
    return serializers.DecimalField(
        max_digits=6,
        decimal_places=3,
        min_value=Decimal(low),
        max_value=high,
        required=False,
        help_text=help_text,
    )


class SupposedQuery(serializers.Serializer[Any]):
    """The same in an address."""

    volunteers = serializers.IntegerField(min_value=1, max_value=MOST_VOLUNTEERS, help_text=WHO)
    wanted = Day(required=False, help_text=WANTED)
    pace = _days("0.1", 365, PACE)
    hand_over_days = _days("0", 60, HAND_OVER)
    meeting = Day(required=False, help_text=MEETING)
    every = serializers.IntegerField(min_value=1, max_value=365, required=False, help_text=EVERY)


class PanelsSerializer(shape(Panels)):  # type: ignore[misc]  # made of a TypedDict
    """The best ways to cut, the blanket as it stands first.

    ``current``: nothing has happened to the blanket since they were made.
    """

    current = serializers.BooleanField()
    made_at = serializers.DateTimeField()
