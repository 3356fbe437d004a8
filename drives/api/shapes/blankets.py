"""Blankets."""

from collections.abc import Iterable
from decimal import Decimal
from typing import Any

from django.db.models import Count, Q
from rest_framework import serializers

from drives.api.fields import Whole
from drives.models import Blanket, Square, State

from .bodies import BIGGEST_ID, LONGEST_NAME, PlanBody
from .plan import Json

Tally = dict[str, int]


class BlanketBody(PlanBody):
    """A layout as for ``plan/``, and what it is for.

    ``hand`` decides nothing here: each member gets the steps for their own hand.
    """

    drive = Whole(1, BIGGEST_ID)
    name = serializers.CharField(max_length=LONGEST_NAME)
    gauge = serializers.DecimalField(
        max_digits=4,
        decimal_places=1,
        min_value=Decimal("0.1"),
        coerce_to_string=False,
        help_text="Stitches to 10 cm of garter stitch.",
    )


class TallySerializer(serializers.Serializer[Any]):
    """How many squares are in which state."""

    waiting = serializers.IntegerField()
    ready = serializers.IntegerField()
    taken = serializers.IntegerField()
    finished = serializers.IntegerField()


class BlanketSerializer(serializers.Serializer[Any]):
    """A blanket and how far it is."""

    id = serializers.IntegerField()
    drive = serializers.IntegerField()
    drive_name = serializers.CharField()
    circle = serializers.IntegerField()
    name = serializers.CharField()
    columns = serializers.IntegerField()
    rows = serializers.IntegerField()
    stitches = serializers.IntegerField()
    mitre = serializers.CharField()
    corner_trade = serializers.BooleanField()
    gauge = serializers.FloatField()
    layout_version = serializers.IntegerField()
    created_at = serializers.DateTimeField()
    squares = TallySerializer()


class LargeSerializer(serializers.Serializer[Any]):
    """A large square by its bottom-left place."""

    at = serializers.CharField()
    size = serializers.IntegerField()


class BlanketDetailSerializer(BlanketSerializer):
    """A blanket with its layout as ``plan/`` takes it, and what follows from that."""

    missing = serializers.ListField(child=serializers.CharField())
    large = LargeSerializer(many=True)
    seams = serializers.ListField(
        child=serializers.ListField(child=serializers.CharField(), min_length=2, max_length=2)
    )
    rounds = serializers.IntegerField()
    widest_round = serializers.IntegerField()
    pieces = serializers.IntegerField(help_text="Of the finished blanket, before any sewing.")


def blanket_json(blanket: Blanket, tally: Tally) -> Json:
    """The blanket's own facts, with the counts of its squares."""
    return {
        "id": blanket.pk,
        "drive": blanket.drive_id,
        "drive_name": blanket.drive.name,
        "circle": blanket.drive.circle_id,
        "name": blanket.name,
        "columns": blanket.columns,
        "rows": blanket.rows,
        "stitches": blanket.stitches,
        "mitre": blanket.mitre,
        "corner_trade": blanket.corner_trade,
        "gauge": float(blanket.gauge),
        "layout_version": blanket.layout_version,
        "created_at": blanket.created_at,
        "squares": tally,
    }


def blanket_detail_json(blanket: Blanket) -> Json:
    """The same with the layout, and what follows from it."""
    plan = blanket.plan()
    layout = plan.layout
    return {
        **blanket_json(blanket, tallies([blanket])[blanket.pk]),
        "missing": [str(place) for place in sorted(layout.missing)],
        "large": [{"at": str(at), "size": size} for at, size in sorted(layout.large)],
        "seams": [[str(one), str(other)] for one, other in sorted(layout.seams)],
        "rounds": plan.rounds,
        "widest_round": plan.widest_round,
        "pieces": len(plan.pieces()),
    }


def tallies(blankets: Iterable[Blanket]) -> dict[int, Tally]:
    """For each blanket, by its id, how many squares are in which state; one query for all."""
    rows = Square.objects.filter(blanket__in=blankets).order_by().values("blanket")
    rows_with_counts = rows.annotate(
        waiting=Count("pk", filter=Q(state=State.OPEN, unmet__gt=0)),
        ready=Count("pk", filter=Q(state=State.OPEN, unmet=0)),
        taken=Count("pk", filter=Q(state=State.TAKEN)),
        finished=Count("pk", filter=Q(state=State.FINISHED)),
    )
    return {
        row["blanket"]: {
            "waiting": row["waiting"],
            "ready": row["ready"],
            "taken": row["taken"],
            "finished": row["finished"],
        }
        for row in rows_with_counts
    }
