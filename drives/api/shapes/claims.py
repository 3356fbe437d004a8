"""Claims."""

from django.utils import timezone
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from drives.api.fields import Whole
from drives.models import Claim, Ending

from .bodies import BIGGEST_ID, Body


class ClaimBody(Body):
    """For whom; without ``member`` for the caller."""

    member = Whole(1, BIGGEST_ID, required=False)


class ExtendBody(Body):
    """How many days more."""

    days = Whole(1, 365)


class ClaimSerializer(serializers.ModelSerializer[Claim]):
    """One member's hold on one square; ``ended_at`` and ``ending`` are null while it is open.

    Wants its claims with square and member loaded.
    """

    place = serializers.CharField(source="square")
    member_name = serializers.CharField(source="member.name")
    late = serializers.SerializerMethodField()
    ending = serializers.SerializerMethodField()

    class Meta:
        model = Claim
        fields = [
            *("id", "place", "member", "member_name", "taken_at", "due_at", "late", "rows_done"),
            *("ended_at", "ending"),
        ]
        read_only_fields = fields
        extra_kwargs = {
            "due_at": {
                "help_text": "The last moment of the day on which it is due, by the circle's clock."
            }
        }

    @extend_schema_field(serializers.ChoiceField(Ending.choices, allow_null=True))
    def get_ending(self, claim: Claim) -> str | None:
        return claim.ending or None

    def get_late(self, claim: Claim) -> bool:
        return claim.late(timezone.now())
