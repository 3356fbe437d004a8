"""Rotas, as ``drives.readings.rota`` says what they hold."""

from rest_framework import serializers

from drives.readings.rota import Rota

from .typed import shape


class RotaSerializer(shape(Rota)):  # type: ignore[misc]  # made of a TypedDict
    """When each square must be begun; the same state gives the same answer all day long.

    ``current``: nothing has happened to the blanket since it was made.
    """

    current = serializers.BooleanField()
    made_at = serializers.DateTimeField()
