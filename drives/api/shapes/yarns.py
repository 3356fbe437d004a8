"""The yarn store."""

from decimal import Decimal
from typing import Any

from django.utils.translation import gettext_lazy
from rest_framework import serializers

from drives.actions.yarn.ledger import MOST_GRAMS
from drives.actions.yarn.store import MOST_IN_A_BALL
from drives.api.fields import OneOf, Whole
from drives.models import Yarn, YarnWay

from .bodies import BIGGEST_ID, Body
from .pieces import LONGEST_NOTE

FROM_HAND_TO_HAND = {YarnWay.HANDED_OUT, YarnWay.RETURNED}
NOTED = {YarnWay.RECEIVED, YarnWay.COUNTED}


class YarnSerializer(serializers.ModelSerializer[Yarn]):
    """One yarn in one dye lot. What nobody knows is null, or not in ``care``.

    ``fibres``: per cent by fibre. ``fast``: whether its dye stayed in a soaked swatch.
    ``care``: the most that it stands, in the terms of ISO 3758. ``grams`` are in the store,
    ``in_hands`` with members, ``own`` of these with the caller; ``reserved`` of all of it for
    blankets. ``price``: of a ball of ``ball_grams``, in the circle's currency.
    """

    fibres = serializers.DictField(child=serializers.IntegerField(), allow_null=True)
    care = serializers.DictField(child=serializers.CharField())
    in_hands = serializers.IntegerField()
    own = serializers.IntegerField()
    reserved = serializers.IntegerField()
    price = serializers.FloatField(allow_null=True)

    class Meta:
        model = Yarn
        fields = [
            *("id", "colour", "value", "dye_lot", "category", "fibres", "metres_per_100_grams"),
            *("care", "fast", "given_by", "place", "grams", "in_hands", "own"),
            *("reserved", "ball_grams", "price"),
        ]
        read_only_fields = fields


class BallBody(Body):
    """What one ball weighs and costs; null where nobody knows it. What is not told stays."""

    ball_grams = Whole(
        1,
        MOST_IN_A_BALL,
        required=False,
        allow_null=True,
        help_text=gettext_lazy("What is short is then told in balls."),
    )
    price = serializers.DecimalField(
        max_digits=8,
        decimal_places=2,
        min_value=Decimal(0),
        coerce_to_string=False,
        required=False,
        allow_null=True,
        help_text=gettext_lazy("For one ball, in the circle’s currency."),
    )


class MoveBody(Body):
    """``grams`` that moved; for ``counted`` those that are there.

    ``member`` is whose hands they come from or go to. Without one it is the store that they are
    knitted up from, or that was counted.
    """

    way = OneOf(YarnWay.values)
    grams = Whole(0, MOST_GRAMS)
    member = Whole(1, BIGGEST_ID, default=None, allow_null=True)
    blanket = Whole(
        1,
        BIGGEST_ID,
        default=None,
        allow_null=True,
        help_text=gettext_lazy("Into which it was knitted: what is reserved for it is used up."),
    )
    note = serializers.CharField(
        default="",
        allow_blank=True,
        max_length=LONGEST_NOTE,
        help_text=gettext_lazy("For what was received or counted."),
    )

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        way, errors = attrs["way"], {}
        if way in FROM_HAND_TO_HAND and attrs["member"] is None:
            errors["member"] = gettext_lazy("Say who gets it, or who brings it back.")
        if way == YarnWay.RECEIVED and attrs["member"] is not None:
            errors["member"] = gettext_lazy("What is received goes into the store.")
        if way != YarnWay.COUNTED and not attrs["grams"]:
            errors["grams"] = gettext_lazy("This must be at least 1.")
        if way != YarnWay.KNITTED and attrs["blanket"] is not None:
            errors["blanket"] = gettext_lazy("Only what is knitted up goes into a blanket.")
        if way not in NOTED and attrs["note"]:
            errors["note"] = gettext_lazy("Only what was received or counted has a note.")
        if errors:
            raise serializers.ValidationError(errors)
        return attrs
