"""Events."""

from rest_framework import serializers

from accounts.models import Event


class EventSerializer(serializers.ModelSerializer[Event]):
    """Something that happened; ``by`` is null where the site acted by itself."""

    by_name = serializers.CharField(source="by.name", default=None, allow_null=True)

    class Meta:
        model = Event
        fields = ["id", "verb", "at", "by", "by_name", "facts"]
        read_only_fields = fields
