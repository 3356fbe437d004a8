"""How loosely each member knits a blanket, by what they measured."""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property

from django.utils.timezone import localdate

from accounts.models import Member
from drives.craft.gauge.drift import Drift, Made, drift
from drives.craft.gauge.tension import Compared, Gauge, of_swatch
from drives.craft.layout.sizing import side
from drives.models.blanket import Blanket
from drives.models.measurement import Measurement


def gauge_of(row: Measurement) -> Gauge:
    """In stitches and ridges to 10 cm."""
    return of_swatch(float(row.width), row.stitches, float(row.height), row.ridges)


def compared(row: Measurement, blanket: Blanket) -> Compared:
    """One square or swatch beside the planned gauge."""
    return Compared(float(blanket.gauge), gauge_of(row).mean)


@dataclass(frozen=True)
class Knits:
    """What ``member`` measured with the needle that they have now; in ``rows`` the newest last.

    An older needle tells nothing any more of what comes off this one.
    """

    blanket: Blanket
    member: Member
    rows: tuple[Measurement, ...]

    @property
    def newest(self) -> Measurement:
        return self.rows[-1]

    @property
    def needle(self) -> float | None:
        """In mm; None where it was not told."""
        return None if self.newest.needle is None else float(self.newest.needle)

    @cached_property
    def drift(self) -> Drift | None:
        """Of their squares, all told as if they were one unit wide; None without any."""
        made = [
            Made(
                localdate(row.square.finished_at or row.measured_at),
                side(self.blanket.stitches, gauge_of(row).mean),
            )
            for row in self.rows
            if row.square
        ]
        return drift(made) if made else None

    @property
    def compared(self) -> Compared:
        """Their squares on average, or else the newest swatch, beside the planned gauge."""
        if self.drift is None:
            return compared(self.newest, self.blanket)
        measured = self.blanket.stitches / self.drift.mean * 10
        return Compared(float(self.blanket.gauge), measured)


def usual_gauges(members: Iterable[Member], planned: float) -> dict[int, float]:
    """By member: what they would have to 10 cm where so much is ``planned``, by one query.

    As loose or as tight as the newest thing that they measured, of whatever blanket.
    """
    rows = Measurement.objects.filter(member__in=list(members)).select_related("blanket")
    found = {
        row.member_id: compared(row, row.blanket) for row in rows.order_by("measured_at", "pk")
    }
    return {member: planned * each.measured / each.planned for member, each in found.items()}


def knits(blanket: Blanket, members: Iterable[Member] | None = None) -> list[Knits]:
    """All present members who measured anything, or those of ``members``, by name: one query."""
    present = Measurement.objects.filter(blanket=blanket, member__left_at=None)
    rows = present.select_related("member", "square")
    if members is not None:
        rows = rows.filter(member__in=members)
    by_member: dict[Member, list[Measurement]] = {}
    for row in rows.order_by("member__name", "member", "measured_at", "pk"):
        by_member.setdefault(row.member, []).append(row)
    return [
        Knits(blanket, member, tuple(row for row in rows if row.needle == rows[-1].needle))
        for member, rows in by_member.items()
    ]
