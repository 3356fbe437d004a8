"""Measuring swatches and squares, which tells how loosely somebody knits."""

from datetime import datetime
from decimal import Decimal
from typing import Any, NamedTuple

from accounts.access import acts_for
from accounts.actions.locks import hold_member
from accounts.models import Member
from drives.actions import refusals
from drives.actions.locks import hold_finished
from drives.actions.log import note_blanket
from drives.models import Blanket, Measurement, Square
from shared.basics.changes import save_changed
from shared.basics.totals import require_room
from shared.basics.transactions import writing

SHORTEST, LONGEST = Decimal("0.5"), Decimal(500)  # cm


class Measured(NamedTuple):
    """``stitches`` are ``width`` cm wide, ``ridges`` are ``height`` cm high (one decimal each).

    ``needle`` in mm; None where it was not told.
    """

    stitches: int
    width: Decimal
    ridges: int
    height: Decimal
    needle: Decimal | None


def measure_square(
    *,
    blanket: Blanket,
    member: Member,
    by: Member,
    square: Square | None,
    measured: Measured,
    now: datetime,
) -> Measurement:
    """Note what ``member`` measured, or a coordinator for them; None for ``square``: a swatch.

    Measured again, a square is corrected; a swatch is another one, unless it is told twice.
    Refused: not-finished, not-yours.
    """
    with writing():
        member = hold_member(member)  # a form that is sent twice waits for itself
        if not acts_for(by, member.pk):
            raise refusals.not_your_swatch(member.name)
        if square:
            square = hold_finished(square, by)
            if square.knitter_id != member.pk:
                raise refusals.not_your_knitting(square)
        mine: dict[str, Any] = {"member": member, "blanket": blanket, "square": square}
        earlier = Measurement.objects.filter(**mine).order_by("-pk").first()
        if earlier and _of(earlier) == measured:
            return earlier
        values = {**measured._asdict(), "measured_at": now}
        if earlier and square:
            save_changed(earlier, values)
            made = earlier
        else:
            if square is None:
                require_room("swatches", Measurement.objects.filter(**mine))
            made = Measurement.objects.create(**mine, **values)
        place = str(square) if square else ""
        note_blanket(blanket, by, "measured", now, place=place, member=member.pk)
    return made


def _of(row: Measurement) -> Measured:
    return Measured(row.stitches, row.width, row.ridges, row.height, row.needle)
