"""What a blanket takes, and the sizes near a wish. Lengths in cm, both sides of the whole grid."""

from collections.abc import Sequence
from decimal import Decimal
from functools import partial
from typing import Annotated, Any, TypedDict

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from rest_framework import serializers

from accounts.models import Units
from drives import measures
from drives.api.fields import GaugeNumber, Number, Truth, Whole
from drives.craft.layout import finishing
from drives.craft.layout.border import border, holes
from drives.craft.layout.plan import Plan
from drives.craft.layout.sizing import (
    CM_PER_INCH,
    Size,
    nearest_sizes,
    side,
    stitches_worked,
    whole_size,
)
from drives.craft.receivers.blanket_rules import PlanFacts, plan_conflicts
from drives.craft.receivers.sizes import AS_OF, TYPICAL, Use
from drives.craft.yarn.hours import hours, square_minutes
from drives.models import Drive
from drives.readings.checks import rules_of
from drives.words import conflicts
from drives.words.receivers import USES

from .bodies import BIGGEST_ID, Body, LayoutBody
from .typed import shape

TO = 4  # decimals of a cm: more would tell only how a computer counts
MOST_RIDGES = 100
MOST_TIMED = 50  # squares by the clock
MINUTES = (Decimal("0.1"), Decimal("9999.9"))
MINUTES_HELP = gettext_lazy("By the clock, for the smallest square; of several one each.")
DRIVE_HELP = gettext_lazy("Of yours: what its receiver would refuse is told of each size.")
RIDGES_HELP = gettext_lazy("Garter ridges of a border around all squares.")


class SizesBody(Body):
    """The wanted size in cm, with its border of so many garter ridges."""

    width = Number(5, 1000)
    height = Number(5, 1000)
    gauge = GaugeNumber()
    at_least = Truth(default=False, help_text=gettext_lazy("None smaller, on neither side."))
    border = Whole(0, MOST_RIDGES, default=0, help_text=RIDGES_HELP)
    drive = Whole(1, BIGGEST_ID, required=False, help_text=DRIVE_HELP)

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        around = 2 * side(attrs["border"], float(attrs["gauge"]))
        if around >= min(attrs["width"], attrs["height"]):
            raise serializers.ValidationError(
                {"border": _("This border leaves no room for squares.")}
            )
        return attrs

    def nearest(self) -> list[Size]:
        """What a valid body asks for."""
        told = self.validated_data
        return nearest_sizes(
            told["width"],
            told["height"],
            float(told["gauge"]),
            border=told["border"],
            at_least=told["at_least"],
        )


class BorderedBody(LayoutBody):
    """A layout, its gauge, and the border that it is to have."""

    gauge = GaugeNumber()
    border = Whole(0, MOST_RIDGES, default=0, help_text=RIDGES_HELP)


class NeedsBody(BorderedBody):
    """The same, and what is known of the time that a square takes."""

    minutes = serializers.ListField(
        child=Number(*map(float, MINUTES)),
        max_length=MOST_TIMED,
        default=[],
        help_text=MINUTES_HELP,
    )


class NeedsQuery(serializers.Serializer[Any]):
    """The same of a blanket that is there."""

    border = serializers.IntegerField(
        min_value=0, max_value=MOST_RIDGES, default=0, help_text=RIDGES_HELP
    )
    minutes = serializers.ListField(
        child=serializers.DecimalField(
            max_digits=5, decimal_places=1, min_value=MINUTES[0], max_value=MINUTES[1]
        ),
        max_length=MOST_TIMED,
        default=[],
        help_text=MINUTES_HELP,
    )


class RefusedSize(TypedDict):
    """Why the receiver would refuse a size, and what would mend it."""

    code: str
    detail: str
    mend: str


class NearSize(TypedDict):
    """A grid, the size that it really gives, and by how much that misses the wish (+: larger).

    ``conflicts``: with the rules of the receiver of the drive that was named.
    """

    stitches: int
    columns: int
    rows: int
    squares: int
    width: float
    height: float
    width_miss: float
    height_miss: float
    conflicts: list[RefusedSize]


class NearSizes(TypedDict):
    """Of each number of stitches at most one grid; the nearest first."""

    sizes: list[NearSize]


class TypicalSize(TypedDict):
    """What a blanket is for, and its usual size; ``to`` where that is a range.

    ``source``: who says so.
    """

    use: Annotated[str, Use]
    name: str
    width: float
    height: float
    width_to: float | None
    height_to: float | None
    source: str


class TypicalSizes(TypedDict):
    """``as_of``: the year and month in which the sources said so."""

    as_of: str
    sizes: list[TypicalSize]


class Hours(TypedDict):
    """For all squares and their ends, from so much to so much.

    ``by_clock``: on how many timed squares it rests; 0: on a usual pace.
    """

    low: float
    high: float
    by_clock: int


class Outline(TypedDict):
    """Both sides, with the border."""

    width: float
    height: float


class PickedUp(TypedDict):
    """Stitches that a border picks up along all edges that face each way, and in the corners.

    ``ridges``: how many it is to have, which changes none of these.
    """

    ridges: int
    bottom: int
    right: int
    top: int
    left: int
    corners: int
    total: int


class Finishing(TypedDict):
    """What is left to do after the last square.

    ``ends`` to weave in, at least; ``seams``: edges of one unit to sew; ``markers``: at most.
    """

    ends: int
    seams: int
    markers: int


class Needs(TypedDict):
    """What a blanket takes, but for its yarn.

    ``stitches`` are worked in all squares, without a border. ``holes``: missing places that squares
    enclose, which the border leaves out.
    """

    squares: int
    stitches: int
    hours: Hours
    size: Outline
    border: PickedUp
    holes: list[str]
    finishing: Finishing


NearSizesSerializer = shape(NearSizes)
NeedsSerializer = shape(Needs)
TypicalSizesSerializer = shape(TypicalSizes)


def typical_json() -> TypicalSizes:
    return {
        "as_of": AS_OF,
        "sizes": [
            {
                "use": typical.use.value,
                "name": str(USES[typical.use]),
                "width": _cm(typical.inches[0]),
                "height": _cm(typical.inches[1]),
                "width_to": _cm(typical.to[0]) if typical.to else None,
                "height_to": _cm(typical.to[1]) if typical.to else None,
                "source": typical.source,
            }
            for typical in TYPICAL
        ],
    }


def _cm(inches: int) -> float:
    return round(inches * CM_PER_INCH, TO)


def sizes_json(found: Sequence[Size], drive: Drive | None) -> NearSizes:
    """As the core found them; what the receiver of ``drive`` refuses is told of each."""
    rules = rules_of(drive) if drive else None
    length = partial(measures.length, units=drive.circle.units if drive else Units.CM)

    def refused(size: Size) -> list[RefusedSize]:
        against = plan_conflicts(rules, PlanFacts(size.width, size.height)) if rules else []
        return [
            {
                "code": each.code.value,
                "detail": conflicts.detail(each, length),
                "mend": conflicts.mend(each),
            }
            for each in against
        ]

    return {
        "sizes": [
            {
                "stitches": each.stitches,
                "columns": each.columns,
                "rows": each.rows,
                "squares": each.squares,
                "width": round(each.width, TO),
                "height": round(each.height, TO),
                "width_miss": round(each.width_miss, TO),
                "height_miss": round(each.height_miss, TO),
                "conflicts": refused(each),
            }
            for each in found
        ]
    }


def needs_json(plan: Plan, gauge: float, ridges: int, by_clock: Sequence[float]) -> Needs:
    """``gauge`` in stitches to 10 cm; ``by_clock``: minutes that squares of one unit took."""
    layout = plan.layout
    takes = hours(plan, square_minutes(layout, by_clock))
    width, height = whole_size(layout, gauge, ridges)
    around = border(layout)
    return {
        "squares": len(plan.places),
        "stitches": stitches_worked(plan),
        "hours": {"low": takes.low, "high": takes.high, "by_clock": len(by_clock)},
        "size": {"width": round(width, TO), "height": round(height, TO)},
        "border": {
            "ridges": ridges,
            "bottom": around.bottom,
            "right": around.right,
            "top": around.top,
            "left": around.left,
            "corners": around.corners,
            "total": around.total,
        },
        "holes": [str(place) for place in holes(layout)],
        "finishing": {
            "ends": finishing.ends(plan),
            "seams": finishing.sewn(layout),
            "markers": finishing.markers(plan),
        },
    }
