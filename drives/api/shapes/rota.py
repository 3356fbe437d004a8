"""Rotas, as ``drives.readings.rota`` says what they hold."""

from django.utils.translation import gettext_lazy
from rest_framework import serializers

from drives.api.fields import Day, Whole
from drives.readings.rota import Rota

from .bodies import BIGGEST_ID, Body
from .typed import shape


class RotaSerializer(shape(Rota)):  # type: ignore[misc]  # made of a TypedDict
    """When each square must be begun; the same state gives the same answer all day long.

    ``current``: nothing has happened to the blanket since it was made.
    """

    current = serializers.BooleanField()
    made_at = serializers.DateTimeField()


class AcceptBody(Body):
    """One square for a member from a day on; without them, all that the rota has.

    With ``made_at`` of the rota that was seen, no other one is accepted in its place.
    """

    place = serializers.CharField(max_length=8, required=False)
    member = Whole(1, BIGGEST_ID, required=False)
    begin = Day(required=False)
    made_at = serializers.DateTimeField(required=False)

    def validate(self, attrs: dict[str, object]) -> dict[str, object]:
        lacking = {"place", "member", "begin"} - attrs.keys()
        if 0 < len(lacking) < 3:
            sentence = gettext_lazy("Give the place, the member and the day, or none of them.")
            raise serializers.ValidationError(dict.fromkeys(sorted(lacking), sentence))
        return attrs


class DeclineBody(Body):
    """A square that is not for a member."""

    place = serializers.CharField(max_length=8)
    member = Whole(1, BIGGEST_ID)


class TakeBackBody(Body):
    """Of which square what was said is taken back; with nothing told, of all."""

    place = serializers.CharField(max_length=8, required=False)


class SaidSerializer(serializers.Serializer[object]):
    """The squares about which something has changed."""

    places = serializers.ListField(child=serializers.CharField())
