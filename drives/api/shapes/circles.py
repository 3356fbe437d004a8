"""Circles and the people in them."""

from typing import Any

from rest_framework import serializers

from accounts.models import Member, Role


class RolesField(serializers.ListField):
    """The names of somebody's roles, always in the same order."""

    child = serializers.ChoiceField(Role.values)

    def to_representation(self, data: Any) -> list[str]:
        return [role.value for role in Role if role in data]


class CircleSerializer(serializers.Serializer[Member]):
    """A circle, and who the caller is in it: ``member`` is the id of their own entry."""

    id = serializers.IntegerField(source="circle_id")
    name = serializers.CharField(source="circle.name")
    language = serializers.CharField(source="circle.language")
    units = serializers.CharField(source="circle.units")
    english = serializers.CharField(source="circle.english")
    time_zone = serializers.CharField(source="circle.time_zone")
    currency = serializers.CharField(source="circle.currency", allow_blank=True)
    member = serializers.IntegerField(source="pk")
    roles = RolesField()
    hand = serializers.CharField()


class MemberSerializer(serializers.ModelSerializer[Member]):
    """Somebody in a circle; ``on_paper`` means that a coordinator acts for them."""

    roles = RolesField()
    on_paper = serializers.BooleanField(source="is_paper")

    class Meta:
        model = Member
        fields = ["id", "name", "roles", "hand", "on_paper"]
