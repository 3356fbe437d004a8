"""Who begins what by when, as the JSON in the row of its sheet: made by workers, read by pages.

Days are by the circle's clock.
"""

from collections.abc import Collection, Iterable, Mapping
from datetime import date, timedelta
from typing import Annotated, TypedDict

from drives.craft.forecast.forecast import Never
from drives.craft.layout.states import rip_first
from drives.craft.places import Place
from drives.craft.rota.fallen import Fallen
from drives.craft.rota.why import Why
from drives.models.blanket import Blanket
from drives.models.sheet import Sheet

from .accepted import Said, said, standing
from .foretold import Day

KIND = "rota"
FRESH = timedelta(days=14)  # an older one leads nobody any more


class Start(TypedDict):
    """A square that nobody has begun, and when to begin it at the latest.

    ``half``, ``sure``: so that the wanted day holds with 50 % and with 90 %; null where no day is
    early enough. ``slack``: days from ``expected`` to ``half``, less than 0 where time is short.
    """

    place: str
    expected: Day | None
    half: Day | None
    sure: Day | None
    slack: int | None


class Speed(TypedDict):
    """Squares a week: ``needed`` until the wanted day, and ``now``, in the last ``weeks``.

    ``needed`` is null where the day is over.
    """

    needed: float | None
    now: float
    weeks: float


class Enough(TypedDict):
    """Knitters who suffice for 50 % and for 90 %, ``now`` as many as there are.

    Null where even ``most`` do not.
    """

    now: int
    half: int | None
    sure: int | None
    most: int


class Assigned(TypedDict):
    """A square for a member, from day to day. ``giver``: who hands a piece over for it.

    ``why``: why it is theirs. ``waiting``: squares that stand on it, on others between or not.
    ``accepted``: a coordinator has accepted it so; null where that is not the reader's to know.
    """

    member: int
    name: str
    place: str
    begin: Day
    end: Day
    giver: str | None
    why: Annotated[str, Why]
    waiting: int
    accepted: bool | None


class FallenAway(TypedDict):
    """What was planned for a member and is no longer; for coordinators and the member alone."""

    member: int
    name: str
    place: str
    why: Annotated[str, Fallen]


class Rota(TypedDict):
    """Who takes which square in the next weeks, and what follows from the wanted day, if any.

    ``starts``: the most pressing first. ``kept``: the probability of the wanted day.
    ``assigned``: the first to be begun first; nobody is bound by it. ``fallen``: what was planned
    and has fallen away.
    """

    today: Day
    runs: int
    finished: int
    squares: int
    wanted: Day | None
    never: Annotated[str, Never] | None
    kept: float | None
    speed: Speed | None
    enough: Enough | None
    starts: list[Start]
    assigned: list[Assigned]
    fallen: list[FallenAway]


def assigned(
    blankets: Collection[Blanket], today: date, lines: Mapping[int, Iterable[Said]] | None = None
) -> dict[int, list[Assigned]]:
    """By blanket, what its newest rota says and what was accepted since; in two queries.

    One where the ``lines`` that stand are known. Squares may be taken by now.
    """
    made = Sheet.objects.foretold().filter(
        kind=KIND, blanket__in=blankets, finished_at__date__gte=today - FRESH
    )
    rows = made.order_by("pk").values_list("blanket_id", "foretold")
    told = {blanket: (rota or {}).get("assigned", []) for blanket, rota in rows}
    if lines is None:
        lines = standing(blankets, today)
    return {
        blanket.pk: as_accepted(blanket, told.get(blanket.pk, []), lines.get(blanket.pk, []), today)
        for blanket in blankets
    }


def as_accepted(
    blanket: Blanket, told: Iterable[Assigned], lines: Iterable[Said], today: date
) -> list[Assigned]:
    """What a rota has ``told``, with the ``lines`` that stand in place of what they change."""
    before = {each["place"]: each for each in told}
    planned = {str(line.place): line for line in lines if line.begin}
    not_theirs = {(str(line.place), line.member.pk) for line in lines if not line.begin}
    found: list[Assigned] = [
        {**each, "accepted": False}
        for each in before.values()
        if each["place"] not in planned and (each["place"], each["member"]) not in not_theirs
    ]
    for place, line in planned.items():
        assert line.begin
        begin, was = max(line.begin, today), before.get(place)
        days = timedelta(days=blanket.drive.claim_days)
        if was:
            days = date.fromisoformat(was["end"]) - date.fromisoformat(was["begin"])
        found.append(
            {
                "member": line.member.pk,
                "name": line.member.name,
                "place": place,
                "begin": begin.isoformat(),
                "end": (begin + days).isoformat(),
                "giver": was["giver"] if was and was["member"] == line.member.pk else None,
                "why": Why.PLANNED.value,
                "waiting": was["waiting"] if was else _above(blanket, line.place),
                "accepted": True,
            }
        )
    return sorted(found, key=lambda each: (each["begin"], each["end"]))


def _above(blanket: Blanket, place: Place) -> int:
    plan = blanket.plan()
    return len(rip_first(plan, place, begun=plan.size.keys()))


def planned_for_others(found: Iterable[Assigned], member: int | None = None) -> set[str]:
    """The places that are planned for somebody else than ``member``."""
    return {each["place"] for each in found if each["accepted"] and each["member"] != member}


def seen_by(rota: Rota, blanket: Blanket, today: date, me: int | None) -> Rota:
    """``rota`` with what was accepted, as ``me`` may see it; None looks after all. One query.

    That something is planned for somebody, or has fallen away, is nobody else's to know.
    """
    lines = said([blanket], today).get(blanket.pk, [])
    stands = [line for line in lines if line.fallen is None]
    found = as_accepted(blanket, rota.get("assigned", []), stands, today)
    for each in found:
        if me not in (None, each["member"]):
            each["accepted"] = None
            if each["why"] == Why.PLANNED:
                each["why"] = Why.FREE.value
    fallen: list[FallenAway] = [
        {
            "member": line.member.pk,
            "name": line.member.name,
            "place": str(line.place),
            "why": line.fallen.value,
        }
        for line in lines
        if line.fallen and line.begin and me in (None, line.member.pk)
    ]
    return {**rota, "assigned": found, "fallen": fallen}
