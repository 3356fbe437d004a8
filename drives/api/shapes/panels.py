"""Proposals for panels, as ``drives.readings.foretold`` says what they hold."""

from collections.abc import Mapping
from datetime import datetime
from decimal import Decimal
from math import isinf
from typing import Annotated, Any, TypedDict

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from rest_framework import serializers

from drives.api.fields import Day, GaugeNumber, Number, Whole
from drives.craft.forecast.pace import SQUARE, Days
from drives.craft.forecast.panels import MOST
from drives.craft.forecast.situation import Knitter, Situation, Together
from drives.craft.forecast.tradeoffs import LARGEST, PLAYED, Way, cut_along, some, ways
from drives.craft.layout.cuts import Along
from drives.craft.layout.finishing import sewn
from drives.craft.layout.panels import bent, strips
from drives.craft.layout.plan import Plan
from drives.craft.layout.sizing import side
from drives.models import Drive
from drives.readings.foretold import Panels, Shared
from drives.readings.shares import Sharing
from drives.sheets.kinds.panels import MOST_VOLUNTEERS, of_plan

from .bodies import BIGGEST_ID, Body, LayoutBody
from .typed import shape

WHO = gettext_lazy("People who knit.")
WANTED = gettext_lazy("The day that is to be kept.")
PACE = gettext_lazy("Days for a square; without it as everybody’s own squares tell.")
HAND_OVER = gettext_lazy("Days for a hand-over of what travels; without it as those so far tell.")
MEETING = gettext_lazy(
    "The next meeting; what travels then changes hands only at meetings. Without it, and without "
    "days for a hand-over, pieces are passed on as the drive’s settings say."
)
EVERY = gettext_lazy("Days from meeting to meeting; 28 without it.")


class SupposedBody(Body):
    """For whom and until when; the last three are for pieces that travel alone."""

    volunteers = Whole(1, MOST_VOLUNTEERS, help_text=WHO)
    wanted = Day(required=False, allow_null=True, help_text=WANTED)
    pace = Number(0.1, 365, required=False, allow_null=True, help_text=PACE)
    hand_over_days = Number(0, 60, required=False, allow_null=True, help_text=HAND_OVER)
    meeting = Day(required=False, allow_null=True, help_text=MEETING)
    every = Whole(1, 365, required=False, allow_null=True, help_text=EVERY)


def _days(low: str, high: int, help_text: Any) -> serializers.DecimalField:
    """Of a query, in which numbers are digits."""
    return serializers.DecimalField(
        max_digits=6,
        decimal_places=3,
        min_value=Decimal(low),
        max_value=high,
        required=False,
        help_text=help_text,
    )


class SupposedQuery(serializers.Serializer[Any]):
    """The same in an address."""

    volunteers = serializers.IntegerField(min_value=1, max_value=MOST_VOLUNTEERS, help_text=WHO)
    wanted = Day(required=False, help_text=WANTED)
    pace = _days("0.1", 365, PACE)
    hand_over_days = _days("0", 60, HAND_OVER)
    meeting = Day(required=False, help_text=MEETING)
    every = serializers.IntegerField(min_value=1, max_value=365, required=False, help_text=EVERY)


class PlanPanelsBody(LayoutBody):
    """A layout that is only planned, of up to 1000 squares, and the people who are to knit it."""

    gauge = GaugeNumber()
    volunteers = Whole(1, MOST_VOLUNTEERS, help_text=WHO)
    pace = Number(0.1, 365, default=SQUARE.median, help_text=gettext_lazy("Days for a square."))
    at_once = Whole(
        1,
        MOST_VOLUNTEERS,
        default=1,
        allow_null=True,
        help_text=gettext_lazy("People who can work on one panel at once; null for any number."),
    )
    drive = Whole(
        1,
        BIGGEST_ID,
        required=False,
        help_text=gettext_lazy(
            "One that you organise: its people, their paces and how it works then count instead of "
            "``pace`` and ``at_once``."
        ),
    )

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        if attrs["columns"] * attrs["rows"] > LARGEST:
            told = _(
                "Up to %(most)d squares can be compared here; a larger blanket once it is made."
            )
            raise serializers.ValidationError({"columns": told % {"most": LARGEST}})
        return attrs


class CutTold(TypedDict):
    """A way to cut: ``along`` and ``bent`` as in ``Proposed``.

    ``sewing``: centimetres of all seams. ``days``: until all is done, if everybody knits steadily.
    It is null where it never would be. ``shares``: who could get which panel; without a drive all
    are ``others``, whom nobody knows by name.
    """

    panels: int
    along: Annotated[str, Along] | None
    bent: bool
    seams: list[list[str]]
    sewing: float
    days: float | None
    shares: list[Shared]


class Cuts(TypedDict):
    """The layout as it stands, then the ways to cut it that no other one beats."""

    ways: list[CutTold]


CutsSerializer = shape(Cuts)


def cuts_json(whole: Plan, asked: Mapping[str, Any], drive: Drive | None, now: datetime) -> Cuts:
    """What a valid ``PlanPanelsBody`` asks for, for the people of the ``drive`` if there is one."""
    gauge = float(asked["gauge"])
    if drive:
        situation, sharing = of_plan(drive, whole, gauge, asked["volunteers"], now)
    else:
        knitters = [Knitter(Days(asked["pace"]))] * asked["volunteers"]
        situation = Situation(whole, knitters, Together(asked["at_once"]))
        sharing = Sharing((), situation, {}, {})
    stands, *others = ways(situation, work=PLAYED)
    chosen = (stands, *some(others, MOST))
    return {"ways": [_told(whole, way, gauge, sharing) for way in chosen]}


def _told(whole: Plan, way: Way, gauge: float, sharing: Sharing) -> CutTold:
    cut = cut_along(whole, way.seams)
    along = strips(cut) if way.seams else None
    return {
        "panels": len(cut.pieces()),
        "along": along.value if along else None,
        "bent": bool(way.seams) and bent(cut),
        "seams": [[str(one), str(other)] for one, other in sorted(way.seams)],
        "sewing": round(sewn(cut.layout) * side(cut.layout.stitches, gauge), 1),
        "days": None if isinf(way.tradeoff.days) else round(way.tradeoff.days, 1),
        "shares": sharing.of(cut) or [],
    }


class PanelsSerializer(shape(Panels)):  # type: ignore[misc]  # made of a TypedDict
    """The best ways to cut, the blanket as it stands first.

    ``current``: nothing has happened to the blanket since they were made.
    """

    current = serializers.BooleanField()
    made_at = serializers.DateTimeField()
