"""The yarn store."""

from rest_framework import serializers

from drives.models import Yarn


class YarnSerializer(serializers.ModelSerializer[Yarn]):
    """One yarn in one dye lot. What nobody knows is null, or not in ``care``.

    ``fibres``: per cent by fibre. ``fast``: whether its dye stayed in a soaked swatch.
    ``care``: the most that it stands, in the terms of ISO 3758. ``grams`` are in the store,
    ``in_hands`` with members, ``own`` of these with the caller.
    """

    fibres = serializers.DictField(child=serializers.IntegerField(), allow_null=True)
    care = serializers.DictField(child=serializers.CharField())
    in_hands = serializers.IntegerField()
    own = serializers.IntegerField()

    class Meta:
        model = Yarn
        fields = [
            *("id", "colour", "value", "dye_lot", "category", "fibres", "metres_per_100_grams"),
            *("care", "fast", "given_by", "place", "grams", "in_hands", "own"),
        ]
        read_only_fields = fields
