"""The yarn store of the demo's circle, what its receivers ask, and who knits how loosely."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from decimal import Decimal

from accounts.models import Member
from drives.actions.colours.lots import choose_lots
from drives.actions.colours.new_lot import plan_new_lot
from drives.actions.drives.rules import note_rules
from drives.actions.squares.measurements import Measured, measure_square
from drives.actions.squares.weights import weigh_square
from drives.actions.yarn.buying import set_buying
from drives.actions.yarn.ledger import hand_out_yarn
from drives.actions.yarn.reservations import reserve_yarn
from drives.actions.yarn.store import YarnSettings, add_yarn
from drives.craft.fibre.care import Care
from drives.craft.fibre.fibres import Fibre, Fibres
from drives.craft.fibre.treatments import Bleach, Iron, Natural, Tumble, Wash
from drives.craft.receivers.rules import Rules
from drives.craft.receivers.typical import TEMPLATES, ReceiverKind
from drives.craft.yarn.lots import LotWay
from drives.craft.yarn.weighing import Swatch
from drives.models import Blanket, Drive, Square, StoredState, Yarn

WASHABLE = Care(
    wash=Wash.MACHINE_40, bleach=Bleach.NOT, tumble=Tumble.LOW, natural=Natural.FLAT, iron=Iron.LOW
)
BY_HAND = Care(wash=Wash.HAND, bleach=Bleach.NOT, tumble=Tumble.NOT, natural=Natural.FLAT)
ACRYLIC: Fibres = {Fibre.ACRYLIC: 100}
MIXED: Fibres = {Fibre.ACRYLIC: 80, Fibre.POLYAMIDE: 20}
WOOL: Fibres = {Fibre.WOOL: 75, Fibre.POLYAMIDE: 25}

# Colour, how it looks, dye lot, fibres, care, whether its dye stays, grams, given by, where.
YARNS: Sequence[tuple[str, str, str, Fibres | None, Care, bool | None, int, str, str]] = (
    ("oatmeal", "#d9c9a3", "114", ACRYLIC, WASHABLE, True, 620, "", "cupboard, top shelf"),
    ("moss", "#6f7d3c", "22", ACRYLIC, WASHABLE, True, 480, "", "cupboard, top shelf"),
    ("rust", "#a9502f", "7", MIXED, WASHABLE, True, 450, "Agnes", "cupboard, top shelf"),
    ("cream", "#f4ead2", "301", ACRYLIC, WASHABLE, True, 180, "", "cupboard, middle shelf"),
    ("slate", "#5b6770", "58", MIXED, WASHABLE, None, 120, "", "cupboard, middle shelf"),
    ("heather", "#8d6a9f", "3", WOOL, BY_HAND, True, 1300, "", "blue box"),
    ("sky", "#8fb8d8", "90", ACRYLIC, WASHABLE, True, 60, "", "blue box"),
    ("midnight", "#1d2440", "12", None, Care(), None, 200, "", "blue box"),
)

# What a ball weighs and costs, where the band or the bill has told it.
BALLS = {
    "oatmeal": (100, "3.40"),
    "moss": (50, "1.95"),
    "rust": (50, "2.20"),
    "cream": (100, "3.40"),
    "slate": (50, "2.20"),
    "sky": (100, "2.75"),
}
SECOND_LOT = "318"  # of the cream, bought later

CARE_HOME = Rules(
    shorter_from=80,
    shorter_to=105,
    longer_from=100,
    longer_to=140,
    refused=frozenset({Fibre.WOOL}),
    machine_wash=True,
    temperature=40,
    tumble=True,
    fringe=False,
    smoke_free=True,
    label=True,
)


def fill(by: Member, now: datetime) -> dict[str, Yarn]:
    """Everything that was given or bought, by colour."""
    found = {}
    for colour, value, dye_lot, fibres, care, fast, grams, given_by, place in YARNS:
        ball_grams, price = BALLS.get(colour, (None, None))
        settings = YarnSettings(
            colour=colour,
            value=value,
            dye_lot=dye_lot,
            category=4,
            fibres=fibres,
            metres_per_100_grams=190,
            ball_grams=ball_grams,
            price=None if price is None else Decimal(price),
            care=care,
            fast=fast,
            swatch=Swatch(22, 44, 6.0) if colour == "sky" else None,
            given_by=given_by,
            place=place,
        )
        found[colour] = add_yarn(circle=by.circle, grams=grams, by=by, now=now, **settings)
        if colour == "cream":
            settings["dye_lot"] = SECOND_LOT
            add_yarn(circle=by.circle, grams=150, by=by, now=now, **settings)
    return found


def share_out(lap: Blanket, yarns: dict[str, Yarn], by: Member, now: datetime) -> None:
    """Cream over two dye lots, oatmeal that is kept back, slate to be bought, and the postage."""
    cream = by.circle.yarns.filter(colour="cream").values_list("pk", flat=True)
    way = LotWay.NEVER_SIDE_BY_SIDE
    choose_lots(blanket=lap, colour="cream", yarns=cream, way=way, by=by, now=now)
    reserve_yarn(blanket=lap, yarn=yarns["oatmeal"], grams=200, by=by, now=now)
    plan_new_lot(blanket=lap, colour="slate", dye_lot="new", grams=150, way=way, by=by, now=now)
    set_buying(
        blanket=lap, by=by, now=now, certainty=90, border_ridges=3, border_colour="oatmeal",
        seam_colour="", packaging=250, postage=Decimal("7.80"),
    )  # fmt: skip


def tell_rules(home: Drive, ward: Drive, by: Member, now: datetime) -> None:
    """The care home has told what it takes; of the ward only what is typical is noted."""
    told_on = now.date()
    note_rules(
        drive=home, by=by, now=now, rules=CARE_HOME, kind=ReceiverKind.CARE_HOME, country="GB",
        told_by="the housekeeper", told_on=told_on,
    )  # fmt: skip
    typical = TEMPLATES[ReceiverKind.NEONATAL_UNIT].rules
    note_rules(
        drive=ward, by=by, now=now, rules=typical, kind=ReceiverKind.NEONATAL_UNIT, country="GB"
    )


def weigh_and_measure(
    blanket: Blanket, loose: Member, even: Member, by: Member, now: datetime
) -> None:
    """The first squares lay on the scale, and two knitters laid a tape along their own."""
    finished = blanket.squares.filter(state=StoredState.FINISHED).order_by("finished_at", "pk")
    for number, square in enumerate(finished.select_related("knitter")[:14]):
        square.blanket = blanket
        weigh_square(square=square, by=by, grams=Decimal("7.5") + Decimal(number % 4) / 2, now=now)
    _measure(blanket, loose, Decimal("9.3"), Decimal(5), now)
    _measure(blanket, even, Decimal("8.1"), Decimal("4.5"), now)


def _measure(
    blanket: Blanket, knitter: Member, side: Decimal, needle: Decimal, now: datetime
) -> None:
    first = blanket.squares.filter(knitter=knitter).order_by("finished_at", "pk").first()
    assert isinstance(first, Square)
    first.blanket = blanket
    measure_square(
        blanket=blanket,
        member=knitter,
        by=knitter,
        square=first,
        measured=Measured(blanket.stitches, side, blanket.stitches, side, needle),
        now=now + timedelta(minutes=1),
    )


def hand_some_out(
    store: dict[str, Yarn], members: Sequence[Member], by: Member, now: datetime
) -> None:
    """A ball of this and that is in people's bags."""
    for colour, member in zip(("oatmeal", "moss", "rust", "cream"), members, strict=False):
        hand_out_yarn(yarn=store[colour], member=member, grams=100, by=by, now=now)
