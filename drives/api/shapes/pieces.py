"""Pieces, who waits for them, and how they change hands."""

from typing import Any

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from drives.actions.rights import hand_over_rights, piece_rights
from drives.api.fields import Day, OneOf, Whole
from drives.craft.forecast.passing import Step
from drives.models import HandOver, HandOverWay, Turn
from drives.readings.next_steps import NextStep
from drives.readings.whereabouts import Whereabouts

from .bodies import BIGGEST_ID, Body
from .may import HAND_OVER, PIECE, hand_over_acts, may_field, piece_acts

LONGEST_NOTE = 200


class HandOverBody(Body):
    """To whom the piece goes, how, and on which day if that is known."""

    receiver = Whole(1, BIGGEST_ID)
    way = OneOf(HandOverWay.values, default=HandOverWay.HAND.value)
    day = Day(default=None, allow_null=True)


class SentBody(Body):
    """A tracking note for the receiver; besides them only coordinators can read it."""

    note = serializers.CharField(default="", allow_blank=True, max_length=LONGEST_NOTE)


class LeaveLineBody(Body):
    """Who waits no longer; without ``member`` the caller."""

    member = Whole(1, BIGGEST_ID, required=False)


class HandOverSerializer(serializers.ModelSerializer[HandOver]):
    """A piece on its way; ``giver`` is null where it lay with the circle.

    Made for the member ``me`` of its context. What giver and receiver tell each other is not here:
    they read it on the pages of the site.
    """

    piece_name = serializers.CharField(source="piece.name")
    giver_name = serializers.CharField(source="giver.name", default=None, allow_null=True)
    receiver_name = serializers.CharField(source="receiver.name")
    may = serializers.SerializerMethodField()

    class Meta:
        model = HandOver
        fields = [
            *("id", "piece", "piece_name", "giver", "giver_name", "receiver", "receiver_name"),
            *("way", "day", "arranged_at", "sent_at", "ended_at", "received", "may"),
        ]
        read_only_fields = fields

    @extend_schema_field(may_field(HAND_OVER))
    def get_may(self, hand_over: HandOver) -> list[str]:
        return hand_over_acts(hand_over_rights(hand_over, self.context["me"]))


class TurnSerializer(serializers.ModelSerializer[Turn]):
    """Somebody in line for a piece."""

    member_name = serializers.CharField(source="member.name")

    class Meta:
        model = Turn
        fields = ["member", "member_name", "asked_at"]
        read_only_fields = fields


class NextStepSerializer(serializers.Serializer[NextStep]):
    """What is proposed to whoever has a piece, as the drive passes pieces on; no act depends on it.

    ``do``: ``begin`` one of ``squares``, ``finish`` those that are on the needles, ``give`` it to
    ``receiver``, who is first in line; null where nothing is to be done with it. ``squares`` are on
    the needles where it is ``in_work``, else they can be begun on it, the best first. ``waiting``:
    how many wait for it. ``day``: when the circle meets, where pieces change hands there.
    """

    do = serializers.ChoiceField([step.value for step in Step], allow_null=True)
    squares = serializers.ListField(child=serializers.CharField())
    in_work = serializers.BooleanField()
    receiver = serializers.IntegerField(source="receiver.pk", default=None, allow_null=True)
    receiver_name = serializers.CharField(source="receiver.name", default=None, allow_null=True)
    waiting = serializers.IntegerField()
    day = serializers.DateField(allow_null=True)


class PieceSerializer(serializers.Serializer[Any]):
    """One connected fabric; ``holder`` is null while it is with the circle.

    Made for the member ``me`` of its context, with the ``steps`` by piece. ``squares`` come in the
    recommended order of work, and ``line``, in which the first comes first. ``next`` is null where
    nobody has it, or it goes to somebody already.
    """

    id = serializers.IntegerField(source="piece.pk")
    name = serializers.CharField(source="piece.name")
    holder = serializers.IntegerField(source="piece.holder_id", allow_null=True)
    holder_name = serializers.CharField(source="piece.holder.name", default=None, allow_null=True)
    squares = serializers.ListField(child=serializers.CharField(), source="places")
    line = TurnSerializer(many=True, source="queue")
    hand_over = HandOverSerializer(allow_null=True)
    next = serializers.SerializerMethodField()
    may = serializers.SerializerMethodField()

    @extend_schema_field(NextStepSerializer(allow_null=True))
    def get_next(self, there: Whereabouts) -> dict[str, Any] | None:
        step = self.context["steps"].get(there.piece.pk)
        return NextStepSerializer(step).data if step else None

    @extend_schema_field(may_field(PIECE))
    def get_may(self, there: Whereabouts) -> list[str]:
        me = self.context["me"]
        in_line = there.turn_of(me) > 0
        return piece_acts(piece_rights(there.piece, me, in_line=in_line), in_line=in_line)


class LostSerializer(serializers.Serializer[Any]):
    """The squares that are to be knitted again; none when the piece had ended before."""

    squares = serializers.ListField(child=serializers.CharField())
