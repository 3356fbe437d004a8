"""Forecasts, as ``drives.readings.foretold`` says what they hold."""

from rest_framework import serializers

from drives.models import Sheet
from drives.readings.foretold import Foretold

from .typed import shape


class ForecastSerializer(shape(Foretold)):  # type: ignore[misc]  # made of a TypedDict
    """What ``runs`` plays of the plan say; the same state gives the same answer all day long.

    ``current``: nothing has happened to the blanket since it was made.
    """

    current = serializers.BooleanField()
    made_at = serializers.DateTimeField()


class MakingSerializer(serializers.ModelSerializer[Sheet]):
    """How far the forecast is; ask again in a moment."""

    class Meta:
        model = Sheet
        fields = ["status", "progress"]
        read_only_fields = fields
