"""Proposals for panels, as ``drives.readings.foretold`` says what they hold."""

from django.utils.translation import gettext_lazy
from rest_framework import serializers

from drives.readings.foretold import Panels
from drives.sheets.kinds.panels import MOST_VOLUNTEERS

from .typed import shape


class SupposedSerializer(serializers.Serializer[None]):
    """For whom and until when; the last three are for pieces that travel alone."""

    volunteers = serializers.IntegerField(
        min_value=1, max_value=MOST_VOLUNTEERS, help_text=gettext_lazy("People who knit.")
    )
    wanted = serializers.DateField(
        required=False, allow_null=True, help_text=gettext_lazy("The day that is to be kept.")
    )
    pace = serializers.FloatField(
        required=False,
        allow_null=True,
        min_value=0.1,
        max_value=365,
        help_text=gettext_lazy("Days for a square; without it as everybody’s own squares tell."),
    )
    hand_over_days = serializers.FloatField(
        required=False,
        allow_null=True,
        min_value=0,
        max_value=60,
        help_text=gettext_lazy("Days for a hand-over; without it as those so far tell."),
    )
    meeting = serializers.DateField(
        required=False,
        allow_null=True,
        help_text=gettext_lazy("The next meeting; then pieces change hands only at meetings."),
    )
    every = serializers.IntegerField(
        required=False,
        allow_null=True,
        min_value=1,
        max_value=365,
        help_text=gettext_lazy("Days from meeting to meeting; 28 without it."),
    )


class PanelsSerializer(shape(Panels)):  # type: ignore[misc]  # made of a TypedDict
    """The best ways to cut, the blanket as it stands first.

    ``current``: nothing has happened to the blanket since they were made.
    """

    current = serializers.BooleanField()
    made_at = serializers.DateTimeField()
