"""Measured gauge: how everybody knits a blanket. Lengths in cm, gauge in stitches to 10 cm."""

from collections.abc import Sequence
from datetime import date
from typing import Annotated, Any, TypedDict

from django.utils.timezone import localdate
from rest_framework import serializers

from drives.actions.squares.measurements import LONGEST, SHORTEST, Measured
from drives.api.fields import NeedleSize, Whole
from drives.craft.gauge.drift import Drift
from drives.craft.gauge.needles import Needle, needle
from drives.craft.gauge.tension import TOLERANCE, Compared, Crook, Tension
from drives.craft.layout.sizing import side
from drives.models import Blanket, Measurement
from drives.readings.alike import Group
from drives.readings.gauges import Knits, compared, gauge_of
from drives.words.gauge import (
    advice_words,
    crooked_words,
    drift_words,
    found_words,
    stays_words,
)

from .bodies import BIGGEST_ID, Body
from .typed import shape

MOST_COUNTED = 400


class Length(serializers.DecimalField):
    """A length in cm, to the millimetre."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(
            max_digits=5,
            decimal_places=1,
            min_value=SHORTEST,
            max_value=LONGEST,
            coerce_to_string=False,
            **kwargs,
        )


class SidesBody(Body):
    """The bottom and the right edge of a finished square; ``needle`` in mm, if it is known."""

    width = Length()
    height = Length()
    needle = NeedleSize(default=None, allow_null=True)

    def measured(self, stitches: int, ridges: int) -> Measured:
        """What a valid body tells, of so many stitches and ridges."""
        told = self.validated_data
        return Measured(stitches, told["width"], ridges, told["height"], told["needle"])


class SwatchBody(SidesBody):
    """So many stitches of a swatch are ``width`` wide, so many ridges ``height`` high.

    ``member`` is who knitted it; without one the caller.
    """

    stitches = Whole(1, MOST_COUNTED)
    ridges = Whole(1, MOST_COUNTED, help_text="Two rows are one ridge.")
    member = Whole(1, BIGGEST_ID, required=False)

    def swatch(self) -> Measured:
        """What a valid body tells."""
        return self.measured(self.validated_data["stitches"], self.validated_data["ridges"])


class NeedleJson(TypedDict):
    """A needle; null where it has no such size."""

    mm: float
    us: str | None
    uk: str | None


class CrookedJson(TypedDict):
    """Row ends are longer than the foundation by this share, or shorter; or rows were counted."""

    crook: Annotated[str, Crook]
    share: float


class KnitsJson(TypedDict):
    """A gauge beside the planned one.

    ``off``: by which share a side comes out longer (less than 0: shorter). ``side``, ``width``,
    ``height``: of a square of one unit, and of the blanket if all of it were knitted so. ``far``:
    so much is seldom the hand alone. ``needle``: with which it was measured. ``try_needle``: the
    one to try next; the same where none comes nearer, null where nobody told one or none is left.
    """

    gauge: float
    off: float
    tension: Annotated[str, Tension]
    far: bool
    side: float
    width: float
    height: float
    needle: NeedleJson | None
    try_needle: NeedleJson | None
    crooked: CrookedJson | None
    in_words: list[str]


class MeasuredJson(KnitsJson):
    """What was measured, and what follows from it; ``place`` null is a swatch."""

    member: int
    place: str | None
    stitches: int
    measured_width: float
    ridges: int
    measured_height: float


class DriftJson(TypedDict):
    """Whether somebody's measured squares grow or shrink.

    ``trend``: cm from one square to the next, ``change``: from the first to the last, as a share;
    ``shown``: that is more than chance. ``least``: the smallest change that so many can show;
    ``needed``: how many squares show one of ``tolerance`` at best. Null: too few squares.
    """

    squares: int
    mean: float
    spread: float | None
    trend: float | None
    change: float | None
    shown: bool
    least: float | None
    needed: int
    in_words: str


class MemberGauge(KnitsJson):
    """How a member knits with their needle: by their squares, or else by their newest swatch."""

    member: int
    name: str
    measured_on: Annotated[str, date]
    drift: DriftJson | None


class AlikeMembers(TypedDict):
    """Members whose squares lie flat beside each other, the loosest first.

    ``begun``: panels begun by them alone; ``free``: those that nobody has begun; each from its
    bottom-left place to its top-right one.
    """

    members: list[int]
    names: list[str]
    low: float
    high: float
    begun: list[str]
    free: list[str]
    in_words: str


class GaugeJson(TypedDict):
    """``planned``: the gauge of the blanket; ``side``: of a square of one unit, ``stitches`` wide.

    ``members`` and ``alike``: coordinators and organisers read everybody, others themselves, and
    who knits as they do.
    """

    planned: float
    side: float
    stitches: int
    tolerance: float
    members: list[MemberGauge]
    alike: list[AlikeMembers]


GaugeSerializer = shape(GaugeJson)
MeasuredSerializer = shape(MeasuredJson)


def gauge_json(blanket: Blanket, known: Sequence[Knits], groups: Sequence[Group]) -> GaugeJson:
    """Of these members and groups."""
    planned = float(blanket.gauge)
    return {
        "planned": planned,
        "side": side(blanket.stitches, planned),
        "stitches": blanket.stitches,
        "tolerance": TOLERANCE,
        "members": [_member_json(each) for each in known],
        "alike": [_group_json(each) for each in groups],
    }


def measured_json(row: Measurement, blanket: Blanket) -> MeasuredJson:
    """One square or swatch by itself."""
    return {
        **_knits_json(compared(row, blanket), row, blanket),
        "member": row.member_id,
        "place": str(row.square) if row.square else None,
        "stitches": row.stitches,
        "measured_width": float(row.width),
        "ridges": row.ridges,
        "measured_height": float(row.height),
    }


def _member_json(known: Knits) -> MemberGauge:
    return {
        **_knits_json(known.compared, known.newest, known.blanket),
        "member": known.member.pk,
        "name": known.member.name,
        "measured_on": localdate(known.newest.measured_at).isoformat(),
        "drift": _drift_json(known.drift) if known.drift else None,
    }


def _knits_json(found: Compared, newest: Measurement, blanket: Blanket) -> KnitsJson:
    """``newest`` tells the needle, and whether its own sides are crooked."""
    mm = None if newest.needle is None else float(newest.needle)
    width, height = found.blanket(blanket.plan().layout)
    crooked = gauge_of(newest).crooked
    words = [found_words(found), stays_words(found), advice_words(found, mm)]
    return {
        "gauge": found.measured,
        "off": found.off,
        "tension": found.tension.value,
        "far": found.far,
        "side": found.side(blanket.stitches),
        "width": width,
        "height": height,
        "needle": None if mm is None else _needle_json(needle(mm)),
        "try_needle": None if mm is None else _needle_json(found.next_needle(mm)),
        "crooked": crooked and {"crook": crooked.crook.value, "share": crooked.share},
        "in_words": [*words, crooked_words(crooked)] if crooked else words,
    }


def _needle_json(found: Needle | None) -> NeedleJson | None:
    return found and {"mm": found.mm, "us": found.us, "uk": found.uk}


def _drift_json(found: Drift) -> DriftJson:
    return {
        "squares": found.squares,
        "mean": found.mean,
        "spread": found.spread,
        "trend": found.trend,
        "change": None if found.trend is None else found.change,
        "shown": found.shown,
        "least": found.least,
        "needed": found.needed,
        "in_words": drift_words(found),
    }


def _group_json(group: Group) -> AlikeMembers:
    return {
        "members": list(group.alike.members),
        "names": group.names,
        "low": group.alike.gauge.low,
        "high": group.alike.gauge.high,
        "begun": group.begun,
        "free": group.free,
        "in_words": group.line,
    }
