"""Blankets."""

from collections.abc import Iterable
from typing import Any

from django.db.models import Count, Q
from rest_framework import serializers

from drives.api.fields import GaugeNumber, Whole
from drives.models import Blanket, Square, StoredState
from drives.readings.checks import drive_checks
from drives.readings.colour_plans import colours_wanted

from .bodies import BIGGEST_ID, LONGEST_NAME, PlanBody
from .checks import CheckSerializer, check_json
from .plan import Json

Tally = dict[str, int]


class BlanketBody(PlanBody):
    """A layout as for ``plan/``, and what it is for.

    ``hand`` decides nothing here: each member gets the steps for their own hand.
    """

    drive = Whole(1, BIGGEST_ID)
    name = serializers.CharField(max_length=LONGEST_NAME)
    gauge = GaugeNumber()


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


class HueSerializer(serializers.Serializer[Any]):
    """A colour of the palette; ``own``: brought along, so that there is enough of it."""

    name = serializers.CharField()
    value = serializers.CharField()
    own = serializers.BooleanField()
    at_most = serializers.IntegerField(allow_null=True, help_text="Squares.")


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
    conflicts = CheckSerializer(many=True)
    palette = HueSerializer(many=True, help_text="In the order of its pattern.")
    pattern = serializers.CharField()
    apart = serializers.BooleanField(help_text="No two squares of one colour side by side.")
    over_seams = serializers.BooleanField(
        help_text="If ``apart``: nor two with a seam between them."
    )


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
        "palette": [hue._asdict() for hue in colours_wanted(blanket).palette],
        "pattern": blanket.pattern,
        "apart": blanket.apart,
        "over_seams": blanket.over_seams,
        "conflicts": [check_json(check) for check in drive_checks(blanket.drive, blanket=blanket)],
    }


def tallies(blankets: Iterable[Blanket]) -> dict[int, Tally]:
    """For each blanket, by its id, how many squares are in which state; one query for all."""
    rows = Square.objects.filter(blanket__in=blankets).order_by().values("blanket")
    rows_with_counts = rows.annotate(
        waiting=Count("pk", filter=Q(state=StoredState.OPEN, unmet__gt=0)),
        ready=Count("pk", filter=Q(state=StoredState.OPEN, unmet=0)),
        taken=Count("pk", filter=Q(state=StoredState.TAKEN)),
        finished=Count("pk", filter=Q(state=StoredState.FINISHED)),
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
