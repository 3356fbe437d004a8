"""What coordinators have said to rotas, and what of it still stands."""

from collections.abc import Iterable
from datetime import date, timedelta
from typing import Any, NamedTuple

from django.db.models import DateField, Exists, F, OuterRef, Subquery, Value
from django.db.models.functions import Coalesce, Greatest

from accounts.models import Member
from drives.craft.places import Place
from drives.craft.rota.fallen import Fallen
from drives.models.blanket import Blanket
from drives.models.calendar import Absence
from drives.models.claim import Claim
from drives.models.rota import RotaLine

KEPT = timedelta(days=14)  # that a square stays planned when its day is over


class Said(NamedTuple):
    """``place`` is planned for ``member`` from the day ``begin`` on; None: it is not for them."""

    place: Place
    member: Member
    begin: date | None
    fallen: Fallen | None


def said(blankets: Iterable[Blanket], today: date) -> dict[int, list[Said]]:
    """By blanket; what was done as it was planned is left out. One query."""
    since = Claim.objects.filter(square=OuterRef("square"), taken_at__gte=OuterRef("accepted_at"))
    first = since.order_by("taken_at", "pk").values("member")[:1]
    # When it would be begun now.
    day = Greatest(Coalesce(F("begin"), Value(today)), Value(today), output_field=DateField())
    away = Absence.objects.filter(
        member=OuterRef("member"), first__lte=OuterRef("day"), last__gte=OuterRef("day")
    )
    rows: Any = (
        RotaLine.objects.filter(square__blanket__in=blankets)
        .select_related("member", "square")
        .annotate(day=day)
        .annotate(
            taker=Subquery(first),
            away=Exists(away),
        )
    )
    found: dict[int, list[Said]] = {}
    for row in rows:
        if row.taker == row.member_id or (row.begin is None and row.taker is not None):
            continue
        found.setdefault(row.square.blanket_id, []).append(
            Said(row.square.place, row.member, row.begin, _fallen(row, today))
        )
    return found


def standing(blankets: Iterable[Blanket], today: date) -> dict[int, list[Said]]:
    """What of it counts."""
    return {
        blanket: [each for each in lines if each.fallen is None]
        for blanket, lines in said(blankets, today).items()
    }


def planned_places(blanket: Blanket, today: date, member: int) -> set[str]:
    """The squares that are planned for somebody else than ``member``: one query."""
    lines = standing([blanket], today).get(blanket.pk, ())
    return {str(line.place) for line in lines if line.begin and line.member.pk != member}


def _fallen(row: Any, today: date) -> Fallen | None:
    """``row`` with what the query has added."""
    if row.taker is not None:
        return Fallen.TAKEN
    if row.member.left_at is not None or not row.member.is_volunteer:
        return Fallen.LEFT
    if row.begin is None:
        return None
    if row.away:
        return Fallen.AWAY
    return Fallen.OVER if row.begin < today - KEPT else None
