"""Events."""

from typing import Any

from rest_framework import serializers

from accounts.log import NAMES, by_id, told_facts
from accounts.models import Event


class EventSerializer(serializers.ModelSerializer[Event]):
    """Something that happened; ``by`` is null where the site acted by itself.

    Its context has the ``names`` of those in the facts. Beside a name stands the member's id.
    """

    by_name = serializers.CharField(source="by.name", default=None, allow_null=True)

    class Meta:
        model = Event
        fields = ["id", "verb", "at", "by", "by_name", "facts"]
        read_only_fields = fields

    def to_representation(self, instance: Event) -> Any:
        ids = {f"{fact}_id": instance.facts[fact] for fact in NAMES if by_id(instance, fact)}
        facts = told_facts(instance, self.context["names"]) | ids
        return super().to_representation(instance) | {"facts": facts}
