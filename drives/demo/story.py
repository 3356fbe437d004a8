"""What happened in the demo's circle up to now."""

from datetime import datetime, timedelta

from accounts.models import Member
from drives.actions.squares import claims, finishing
from drives.craft.places import Place
from drives.models import Blanket, Drive

from . import blankets, people, store
from .knitting import DAY, DemoKnitter, DemoTable

HOUR = timedelta(hours=1)
Members = dict[str, Member]


def tell(now: datetime) -> None:
    """Everything that happened in the ten weeks before ``now``."""
    begun = now - 70 * DAY
    maud = people.new_circle("The Lamplight Circle", people.ORGANISER, begun)
    members = people.fill_circle(maud, begun + HOUR)
    lap = _lap_blanket(members, now)
    _throws(members, now)
    ward = _small_blanket(members, now)
    _yarn(lap, ward, members, now)
    _next_door(now)


def _lap_blanket(members: Members, now: datetime) -> Blanket:
    """In the middle of it: many hands, and two squares late, one of them of a paper member."""
    begun = now - 66 * DAY
    maud, idris, tamsin = members["Maud"], members["Idris"], members["Tamsin"]
    drive = blankets.care_home(maud, (now + 60 * DAY).date(), begun)
    blanket = blankets.LAP.plan(drive, maud, begun + HOUR)
    stay = [
        DemoKnitter(members["Osei"], 3, rests_at=now - 6 * DAY),
        DemoKnitter(members["Kofi"], 4, rests_at=now - 5 * DAY),
        DemoKnitter(members["Lenka"], 4, hands=2, rests_at=now - 4 * DAY),
        DemoKnitter(members["Bettina"], 4, pauses_at=now - 20 * DAY),
        DemoKnitter(members["Walter"], 5, pauses_at=now - 23 * DAY),
        DemoKnitter(members["Wren"], 5),
        DemoKnitter(members["Agnes"], 6),
        DemoKnitter(maud, 6),
    ]
    table = DemoTable(blanket, idris, [DemoKnitter(tamsin, 4), *stay])
    _first_try(table, members["Wren"], begun + DAY)
    half_way = now - 32 * DAY
    table.knit(begun + 4 * DAY, half_way)
    for square in table.held_by(tamsin):
        claims.give_back_square(square=square, by=tamsin, now=half_way + HOUR)
    for square in table.held_by(members["Agnes"]):
        claims.extend_claim(square=square, by=idris, days=7, now=half_way + 2 * HOUR)
    table = DemoTable(blanket, idris, stay)
    table.knit(half_way + DAY, now)
    for member, rows in ((members["Wren"], 12), (members["Bettina"], 5), (maud, 21)):
        for square in table.held_by(member):
            claims.count_rows(square=square, by=member, rows_done=rows)
    return blanket


def _first_try(table: DemoTable, knitter: Member, now: datetime) -> None:
    """The corner square came out too small and was ripped back."""
    corner = table.square(Place(1, 1))
    claims.claim_square(square=corner, member=knitter, by=knitter, now=now)
    finishing.finish_square(square=corner, by=knitter, now=now + 2 * DAY)
    finishing.rip_back_square(square=corner, by=table.coordinator, now=now + 2 * DAY + HOUR)


def _throws(members: Members, now: datetime) -> None:
    """Two halves on their way from door to door, and a blanket that nobody has begun."""
    begun = now - 40 * DAY
    maud = members["Maud"]
    drive = blankets.shelter(maud, begun)
    blanket = blankets.TWO_HALVES.plan(drive, maud, begun + HOUR)
    knitters = [DemoKnitter(members["Osei"], 6), DemoKnitter(members["Lenka"], 8)]
    DemoTable(blanket, members["Idris"], knitters).knit(begun + 2 * DAY, now)
    blankets.FIRST.plan(drive, maud, now - DAY)


def _small_blanket(members: Members, now: datetime) -> Drive:
    begun = now - 20 * DAY
    maud = members["Maud"]
    drive = blankets.neonatal(maud, (now + 40 * DAY).date(), begun)
    blanket = blankets.CRADLE.plan(drive, maud, begun + HOUR)
    knitters = [
        DemoKnitter(members["Kofi"], 4),
        DemoKnitter(members["Osei"], 3, rests_at=now - 2 * DAY),
    ]
    DemoTable(blanket, members["Idris"], knitters).knit(begun + DAY, now)
    return drive


def _yarn(lap: Blanket, ward: Drive, members: Members, now: datetime) -> None:
    """The store, the receivers' rules, and a second lap blanket of wool that is refused in time."""
    maud, begun = members["Maud"], now - 12 * DAY
    people.tell_currency(maud, "GBP", begun)
    yarns = store.fill(maud, begun)
    store.tell_rules(lap.drive, ward, maud, begun + HOUR)
    knitters = [members[name] for name in ("Osei", "Wren", "Lenka", "Kofi")]
    store.hand_some_out(yarns, knitters, maud, begun + 2 * HOUR)
    store.weigh_and_measure(lap, members["Lenka"], members["Wren"], maud, now - HOUR / 2)
    blankets.QUIET.plan(lap.drive, maud, now - 2 * DAY)
    blankets.knit_from(yarns, maud, now)
    store.share_out(lap, yarns, maud, now)


def _next_door(now: datetime) -> None:
    """Another circle, of which the first one sees nothing."""
    begun = now - 10 * DAY
    rufus = people.new_circle("The Thursday Table", people.STRANGER, begun)
    drive = blankets.shelter(rufus, begun)
    blanket = blankets.PRACTICE.plan(drive, rufus, begun + HOUR)
    DemoTable(blanket, rufus, [DemoKnitter(rufus, 6)]).knit(begun + DAY, now)
