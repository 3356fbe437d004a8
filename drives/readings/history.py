"""What happened in a circle, read from the claims of all its blankets for a forecast."""

from collections.abc import Mapping, Sequence
from datetime import date, datetime, timedelta
from math import inf

from django.db.models import Q

from accounts.models import Member
from drives.craft.forecast.gatherings import Gatherings, gatherings
from drives.craft.forecast.history import History, Person, Spell
from drives.craft.layout.layout import Mitre, side_stitches
from drives.craft.layout.plan import Plan
from drives.craft.layout.rows import worked
from drives.craft.places import Place
from drives.models.blanket import Blanket
from drives.models.calendar import Absence, Meeting
from drives.models.claim import Claim, Ending

DAY = timedelta(days=1)
LOOKED_BACK = 730 * DAY  # who was slow years ago may be quick by now
Stretches = tuple[tuple[float, float], ...]


def spells_of(
    blanket: Blanket, number: Mapping[int, int], morning: datetime, now: datetime
) -> list[Spell]:
    """The claims of the circle's blankets, one query; units are those of ``blanket``.

    ``number``: of a member, by their id.
    """
    unit = worked(blanket.stitches, Mitre(blanket.mitre))
    recent = Q(ended_at=None) | Q(ended_at__gte=now - LOOKED_BACK)
    rows = Claim.objects.filter(
        recent, square__blanket__drive__circle=blanket.drive.circle_id, taken_at__lte=now
    )
    found = []
    for row in rows.order_by("taken_at", "pk").values_list(
        "member_id", "taken_at", "ended_at", "ending", "due_at", "square__blanket",
        "square__column", "square__row", "square__size", "square__blanket__stitches",
        "square__blanket__mitre", "square__blanket__drive__grace_days",
    ):  # fmt: skip
        member, taken, ended, ending, due, of, column, line, size, stitches, mitre, grace = row
        spell = Spell(
            blanket=of,
            place=Place(column, line),
            knitter=number.get(member, -1),
            taken=(taken - morning) / DAY,
            ended=inf if ended is None else (ended - morning) / DAY,
            finished=ending == Ending.FINISHED,
            units=worked(side_stitches(size, stitches), Mitre(mitre)) / unit,
            lapses=(due - morning) / DAY + grace,
        )
        found.append(spell)
    return found


def met(spells: Sequence[Spell], circle: int, today: date) -> Gatherings | None:
    """Whether squares change hands only when the circle meets; one query."""
    days = Meeting.objects.filter(drive__circle=circle).values_list("day", flat=True)
    return gatherings(spells, [(day - today).days for day in sorted(set(days))])


def absences(members: Sequence[Member], today: date) -> dict[int, Stretches]:
    """By member: stretches in days from today, past ones too, joined where they overlap."""
    away: dict[int, list[tuple[float, float]]] = {}
    rows = Absence.objects.filter(member__in=members)
    for member, first, last in rows.order_by("first").values_list("member_id", "first", "last"):
        begins, ends = float((first - today).days), float((last - today).days + 1)
        stretches = away.setdefault(member, [])
        if stretches and begins <= stretches[-1][1]:
            begins, ends = stretches[-1][0], max(ends, stretches.pop()[1])
        stretches.append((begins, ends))
    return {member: tuple(stretches) for member, stretches in away.items()}


def history(
    members: Sequence[Member],
    spells: Sequence[Spell],
    away: Mapping[int, Stretches],
    plans: Mapping[int, Plan],
    blankets: Sequence[Blanket],
    morning: datetime,
) -> History:
    """``plans``: of those of the circle's ``blankets`` whose readiness is looked at."""
    together = [blanket for blanket in blankets if not blanket.drive.one_pair_of_hands]
    rooms = {
        blanket.pk: room * len(plans[blanket.pk].pieces())
        for blanket in together
        if (room := blanket.drive.room_on_a_piece)
    }
    return History(
        people=[
            Person((member.joined_at - morning) / DAY, away.get(member.pk, ()))
            for member in members
        ],
        spells=spells,
        plans={blanket.pk: plans[blanket.pk] for blanket in together},
        room=rooms,
        travelling=frozenset(each.pk for each in blankets if each.drive.one_pair_of_hands),
    )
