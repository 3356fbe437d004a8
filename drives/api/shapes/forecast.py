"""Forecasts, as ``drives.models.foretold`` tells them."""

from typing import Any

from rest_framework import serializers

from drives.craft.forecast.causes import Cause
from drives.craft.forecast.forecast import Never
from drives.craft.layout.seams import Along
from drives.models import Sheet


class DatesSerializer(serializers.Serializer[Any]):
    """The days that are kept with 50 % and with 90 %; ``kept``: the wanted day's probability."""

    half = serializers.DateField(allow_null=True)
    sure = serializers.DateField(allow_null=True)
    kept = serializers.FloatField(allow_null=True)


class HeldBackSerializer(serializers.Serializer[Any]):
    """A cause with its share of the days of the last chains; about a member, a piece, or neither.

    ``away``: whether days on which the member is away are among what is known.
    """

    cause = serializers.ChoiceField([cause.value for cause in Cause])
    member = serializers.CharField(allow_null=True)
    away = serializers.BooleanField()
    piece = serializers.CharField(allow_null=True)
    share = serializers.FloatField()


class MorePanelSerializer(DatesSerializer):
    """One more panel; ``sewing``: centimetres of all seams."""

    panels = serializers.IntegerField()
    along = serializers.ChoiceField([along.value for along in Along])
    sewing = serializers.FloatField()
    seams = serializers.ListField(child=serializers.ListField(child=serializers.CharField()))


class AheadSerializer(serializers.Serializer[Any]):
    """Squares finished by the end of a day, with 90 %, 50 % and 10 %."""

    day = serializers.DateField()
    low = serializers.IntegerField()
    middle = serializers.IntegerField()
    high = serializers.IntegerField()


class SoFarSerializer(serializers.Serializer[Any]):
    """Squares finished by the end of a day, and still."""

    day = serializers.DateField()
    finished = serializers.IntegerField()


class GroundSerializer(serializers.Serializer[Any]):
    """How much is known, and the days that are reckoned with."""

    squares = serializers.IntegerField()
    hand_overs = serializers.IntegerField()
    days_a_square = serializers.FloatField()
    days_a_hand_over = serializers.FloatField(allow_null=True)
    weight = serializers.FloatField()


class ForecastSerializer(serializers.Serializer[Any]):
    """What ``runs`` plays of the plan say; the same state gives the same answer all day long."""

    today = serializers.DateField()
    runs = serializers.IntegerField()
    finished = serializers.IntegerField()
    squares = serializers.IntegerField()
    wanted = serializers.DateField(allow_null=True)
    never = serializers.ChoiceField([why.value for why in Never], allow_null=True)
    dates = DatesSerializer()
    held_back = HeldBackSerializer(many=True)
    volunteer = DatesSerializer(allow_null=True)
    panel = MorePanelSerializer(allow_null=True)
    ahead = AheadSerializer(many=True)
    so_far = SoFarSerializer(many=True)
    rests_on = GroundSerializer()


class MakingSerializer(serializers.ModelSerializer[Sheet]):
    """How far the forecast is; ask again in a moment."""

    class Meta:
        model = Sheet
        fields = ["status", "progress"]
        read_only_fields = fields
