"""The drives and blankets of the demo."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal

from accounts.models import Member
from drives.actions.colours.plans import plan_colours, set_palette
from drives.actions.drives.blankets import plan_blanket
from drives.actions.drives.drives import make_drive
from drives.craft.colours.wish import Pattern
from drives.craft.layout.layout import Large, Layout, Mitre, Seam
from drives.craft.places import Place
from drives.drawing.colours import look
from drives.models import Blanket, Drive, Mode
from drives.readings.colour_plans import ColoursWanted, PaletteColour, colours_wanted


@dataclass(frozen=True)
class BlanketWanted:
    """A blanket to plan, with yarns that run in diagonals across it."""

    name: str
    gauge: Decimal
    layout: Layout
    yarns: Sequence[str] = field(default=())

    def plan(self, drive: Drive, by: Member, now: datetime) -> Blanket:
        blanket = plan_blanket(
            drive=drive, by=by, name=self.name, gauge=self.gauge, layout=self.layout, now=now
        )
        if self.yarns:
            plan_colours(blanket=blanket, by=by, wanted=self._colours(), now=now)
        return blanket

    def _colours(self) -> ColoursWanted:
        """The squares of one diagonal are worked in the same weeks, so they share a yarn.

        Before there is a store, it is brought along.
        """
        palette = tuple(PaletteColour(name, look(name), own=True) for name in self.yarns)
        return ColoursWanted(palette, Pattern.BANDS, apart=True, margin=10)


LAP = BlanketWanted(
    "Lap blanket for the sun room",
    Decimal(20),
    Layout(columns=12, rows=16, stitches=16),
    ("oatmeal", "moss", "rust", "cream", "slate"),
)
QUIET = BlanketWanted(
    "Lap blanket for the quiet room",
    Decimal(20),
    Layout(columns=10, rows=14, stitches=18),
    ("heather", "sky"),
)
CRADLE = BlanketWanted(
    "Small blanket with a marked centre",
    Decimal(24),
    Layout(columns=5, rows=5, stitches=17, mitre=Mitre.CENTRED),
    ("lemon", "mint", "white"),
)
TWO_HALVES = BlanketWanted(
    "Throw in two halves",
    Decimal(18),
    Layout(
        columns=6,
        rows=6,
        stitches=18,
        missing=frozenset({Place.parse("A6")}),
        large=frozenset({Large(Place.parse("B3"), 2)}),
        seams=frozenset(Seam(Place(3, row), Place(4, row)) for row in range(1, 7)),
    ),
    ("plum", "heather", "silver"),
)
FIRST = BlanketWanted(
    "First blanket, to learn on", Decimal(20), Layout(columns=3, rows=3, stitches=20)
)
PRACTICE = BlanketWanted("Practice piece", Decimal(20), Layout(columns=2, rows=2, stitches=12))


def knit_from(store: Collection[str], by: Member, now: datetime) -> None:
    """Colours that are in the circle's store come from there from now on."""
    for blanket in Blanket.objects.filter(drive__circle=by.circle, palette__name__in=store):
        asked = colours_wanted(blanket)
        palette = tuple(hue._replace(own=hue.name not in store) for hue in asked.palette)
        set_palette(blanket=blanket, by=by, wanted=asked._replace(palette=palette), now=now)


def care_home(organiser: Member, deadline: date, now: datetime) -> Drive:
    return make_drive(
        circle=organiser.circle,
        by=organiser,
        now=now,
        name="Warm laps for the care home",
        purpose="Lap blankets for the residents who sit by the window in the sun room.",
        recipient="The care home by the mill",
        for_babies=False,
        deadline=deadline,
        mode=Mode.TOGETHER,
        claim_limit=2,
        claim_days=14,
        grace_days=14,
    )


def neonatal(organiser: Member, deadline: date, now: datetime) -> Drive:
    return make_drive(
        circle=organiser.circle,
        by=organiser,
        now=now,
        name="First blankets",
        purpose="Small blankets for the smallest: cotton or acrylic only, no wool, no fringe.",
        recipient="The neonatal ward of the county hospital",
        for_babies=True,
        deadline=deadline,
        mode=Mode.TOGETHER,
        claim_limit=1,
        claim_days=10,
        grace_days=7,
    )


def shelter(organiser: Member, now: datetime) -> Drive:
    return make_drive(
        circle=organiser.circle,
        by=organiser,
        now=now,
        name="Throws for the night shelter",
        purpose="Whatever keeps a shoulder warm. The halves travel from door to door.",
        recipient="The night shelter",
        for_babies=False,
        deadline=None,
        mode=Mode.TRAVELLING,
        claim_limit=2,
        claim_days=14,
        grace_days=7,
    )
