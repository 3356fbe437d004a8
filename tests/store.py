"""The actions on a circle's yarn, for tests to tell short stories with."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from accounts.models import Event, Member
from drives.actions.colours.by_hand import colour_squares
from drives.actions.colours.plans import set_palette
from drives.actions.yarn import ledger
from drives.actions.yarn.store import YarnSettings, add_yarn
from drives.craft.colours.wish import Pattern
from drives.craft.fibre.care import Care
from drives.craft.places import Place
from drives.models import Holding, Move, Yarn
from drives.readings.colour_plans import ColoursWanted, PaletteColour

from .desk import NOW, Desk

FACTS = YarnSettings(
    colour="Navy",
    value="#26375c",
    dye_lot="",
    category=None,
    fibres=None,
    metres_per_100_grams=None,
    care=Care(),
    fast=None,
    swatch=None,
    given_by="",
    place="",
)


def new_yarn(by: Member, grams: int = 100, **changed: Any) -> Yarn:
    facts: Any = FACTS | changed
    return add_yarn(circle=by.circle, grams=grams, by=by, now=NOW, **facts)


def lay_colours(desk: Desk, by: Member, looks: Mapping[str, str], **colours: str) -> None:
    """Squares by their names get these colours, and the blanket a palette that ``looks`` so."""
    given = {Place.parse(name): colour for name, colour in colours.items()}
    if given:
        colour_squares(blanket=desk.blanket, by=by, colours=given, now=NOW)
    palette = tuple(PaletteColour(name, value, own=True) for name, value in looks.items())
    wanted = ColoursWanted(palette, Pattern.BANDS, apart=False, margin=0)
    set_palette(blanket=desk.blanket, by=by, wanted=wanted, now=NOW)


@dataclass(frozen=True)
class Shelf:
    """One yarn; Cora, or whoever is ``by``, notes what happens to it."""

    yarn: Yarn
    by: Member

    def receive(self, grams: int, **more: Any) -> Move:
        return ledger.receive_yarn(yarn=self.yarn, grams=grams, **self._noted(more))

    def hand_out(self, member: Member, grams: int, **more: Any) -> Move:
        return ledger.hand_out_yarn(yarn=self.yarn, member=member, grams=grams, **self._noted(more))

    def take_back(self, member: Member, grams: int, **more: Any) -> Move:
        return ledger.take_back_yarn(
            yarn=self.yarn, member=member, grams=grams, **self._noted(more)
        )

    def knit_up(self, member: Member | None, grams: int, **more: Any) -> Move:
        return ledger.knit_up_yarn(yarn=self.yarn, member=member, grams=grams, **self._noted(more))

    def count(self, member: Member | None, grams: int, **more: Any) -> Move | None:
        return ledger.count_yarn_again(
            yarn=self.yarn, member=member, grams=grams, **self._noted(more)
        )

    def _noted(self, more: dict[str, Any]) -> dict[str, Any]:
        return {"by": self.by, "now": NOW} | more

    @property
    def stored(self) -> int:
        return Yarn.objects.get(pk=self.yarn.pk).grams

    def hands(self) -> dict[str, int]:
        """Who has some."""
        having = Holding.objects.filter(yarn=self.yarn, grams__gt=0).select_related("member")
        return {holding.member.name: holding.grams for holding in having}

    def lines(self) -> list[tuple[str, int, int]]:
        """Of the ledger, the first first: the way, grams into the store, grams into hands."""
        return [(str(move.way), move.grams, move.held) for move in self.yarn.moves.order_by("pk")]


def events(yarn: Yarn) -> list[tuple[str, dict[str, Any]]]:
    """What the log says of the circle's yarn, the first first."""
    found = Event.objects.filter(circle=yarn.circle, verb__startswith="yarn").order_by("pk")
    return [(event.verb, event.facts) for event in found]
