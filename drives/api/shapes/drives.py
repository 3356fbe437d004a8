"""Drives."""

from rest_framework import serializers

from drives.models import Drive


class DriveSerializer(serializers.ModelSerializer[Drive]):
    """A drive with how its circle works in it."""

    circle_name = serializers.CharField(source="circle.name")

    class Meta:
        model = Drive
        fields = [
            *("id", "circle", "circle_name", "name", "purpose", "recipient", "for_babies"),
            *("country", "deadline", "mode", "at_once", "passing", "meet_every", "hand_over_days"),
            *("claim_limit", "claim_days", "grace_days", "created_at"),
        ]
        read_only_fields = fields
