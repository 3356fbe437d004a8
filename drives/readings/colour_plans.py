"""What the colours of a blanket are to be, and what a colour plan has to mind."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import NamedTuple

from drives.craft.colours.kept import forgiving, kept_short
from drives.craft.colours.plan import (
    Coloured,
    Impossible,
    SearchGaveUp,
    still_possible,
)
from drives.craft.colours.wish import Pattern, Wish
from drives.craft.colours.with_lots import LotWish, lots_lie, plan_with_lots
from drives.craft.layout.plan import Plan
from drives.craft.places import Place
from drives.craft.yarn.lots import LotWay
from drives.models.blanket import Blanket
from drives.models.square import Square, StoredState

from .demand import left_for, lot_grams
from .lots import Lots, lots_of, used_in
from .stock import Stock, stock, suffices_for
from .weights import Weights, weights

EFFORT = (
    80_000  # for somebody waits: a tenth of a second for 24 × 30 squares, three for the largest
)
EFFORT_FOR_ONE = 20_000  # for each colour of one square: beside the plan that there is, it is quick

PlanAnswer = Coloured | Impossible | SearchGaveUp


class PaletteColour(NamedTuple):
    """One row of the palette; see ``Colour``."""

    name: str
    value: str
    own: bool = False
    at_most: int | None = None


class ColoursWanted(NamedTuple):
    """The palette in its order and the rules of the plan; ``margin`` in per cent."""

    palette: tuple[PaletteColour, ...]
    pattern: Pattern
    apart: bool
    margin: int
    over_seams: bool = True

    def hue(self, name: str) -> PaletteColour | None:
        """The colour of this name, in capitals or not."""
        return next((hue for hue in self.palette if hue.name.casefold() == name.casefold()), None)


def colours_wanted(blanket: Blanket) -> ColoursWanted:
    """As it is stored; one query."""
    rows = blanket.palette.values_list("name", "value", "own", "at_most")
    return ColoursWanted(
        tuple(PaletteColour(*row) for row in rows),
        Pattern(blanket.pattern),
        blanket.apart,
        blanket.colour_margin,
        blanket.over_seams,
    )


@dataclass(frozen=True)
class Draft:
    """A colour plan in the making.

    ``known``: what a stitch weighs, by colour; ``grams``: how much of the ``stocks`` is there for
    this blanket.
    """

    blanket: Blanket
    plan: Plan
    squares: Sequence[Square]
    wanted: ColoursWanted
    stocks: Mapping[str, Stock]
    known: Weights
    grams: Mapping[str, float]
    lots: Mapping[str, Lots]

    @cached_property
    def rooms(self) -> dict[str, int | None]:
        """The units that each colour of the store suffices for; None where nothing is known.

        A square is of one lot: what is left over of each is not added up. What is to be bought
        counts, so that one sees how it would lie.
        """
        grams = {name: there + self.lots[name].to_come for name, there in self.grams.items()}
        rooms = suffices_for(self.blanket, self.known, grams, self.wanted.margin)
        for name in rooms:
            own = self.lot_rooms(name)
            if own and None not in own.values():
                rooms[name] = sum(filter(None, own.values()))
        return rooms

    def lot_rooms(self, name: str) -> dict[int, int | None]:
        """By the id of a yarn, the units that each lot suffices for; none unless several count."""
        if not self.lots[name].way:
            return {}
        shared = lot_grams(self.lots[name], self.grams[name])
        for lot in self.lots[name].used:
            shared[lot.yarn.pk] += lot.to_come
        unit = {name: self.known[name]}
        return {
            pk: suffices_for(self.blanket, unit, {name: grams}, self.wanted.margin)[name]
            for pk, grams in shared.items()
        }

    def lot_wishes(self, colours: Mapping[Place, str]) -> dict[str, LotWish]:
        """Of each colour of which several lots count; what is begun, in these ``colours``, keeps
        its lot, and the others keep to theirs where they can.
        """
        return {
            name: self._lot_wish(name, lots.way, colours)
            for name, lots in self.lots.items()
            if lots.way
        }

    def _lot_wish(self, name: str, way: LotWay, colours: Mapping[Place, str]) -> LotWish:
        used: Counter[int] = Counter()
        kept: dict[Place, int | None] = {}
        near: dict[Place, int] = {}
        for square in self.squares:
            if colours.get(square.place, square.colour) != name:
                continue
            lot = square.dye_lot_id
            if not self.keeps_lot(square, name):
                near |= {} if lot is None else {square.place: lot}
                continue
            kept[square.place] = lot
            if square.state == StoredState.TAKEN and lot is not None:
                used[lot] += square.size**2
        rooms = {
            lot: None if units is None else max(units - used[lot], 0)
            for lot, units in self.lot_rooms(name).items()
        }
        return LotWish(way, rooms, kept, near)

    def keeps_lot(self, square: Square, colour: str) -> bool:
        """Whether it is begun, and not in a lot of another colour than it has by now."""
        yarns = self.stocks[colour].yarns if colour in self.stocks else ()
        own = square.dye_lot_id is None or square.dye_lot_id in [yarn.pk for yarn in yarns]
        return square.state == StoredState.FINISHED or (square.state != StoredState.OPEN and own)

    @cached_property
    def kept(self) -> dict[Place, str]:
        """What no plan changes: coloured squares that are begun, or whose colour was chosen."""
        return {
            square.place: square.colour
            for square in self.squares
            if square.colour and (square.colour_fixed or square.state != StoredState.OPEN)
        }

    @property
    def colours(self) -> dict[Place, str]:
        """Of the squares as they stand, those that have one."""
        return {square.place: square.colour for square in self.squares if square.colour}

    @property
    def unknown(self) -> list[str]:
        """The colours taken to be enough, as nothing is known of what a square of them weighs."""
        return [
            hue.name
            for hue in self.wanted.palette
            if not hue.own and self.rooms.get(hue.name, 0) is None
        ]

    def wanting(self, wanted: ColoursWanted) -> "Draft":
        """The same blanket and yarn, with something else wanted."""
        return replace(self, wanted=wanted)

    @property
    def lacks(self) -> bool:
        """Whether all colours together suffice for fewer squares than are to be knitted."""
        rooms = [self.room(hue) for hue in self.wanted.palette]
        units = sum(each.size**2 for each in self.squares if each.state != StoredState.FINISHED)
        return None not in rooms and sum(filter(None, rooms)) < units

    def room(self, hue: PaletteColour) -> int | None:
        return None if hue.own else self.rooms.get(hue.name, 0)

    @property
    def asks(self) -> object:
        """All that ``answer`` depends on: drafts that ask the same get the same."""
        states = [(square.place, square.size, square.state) for square in self.squares]
        wish, lots = self._wish(self.kept, {}), self.lot_wishes(self.kept)
        return self.plan.layout, sorted(states), wish, lots

    def answer(self, effort: int = EFFORT) -> PlanAnswer:
        """A plan for all squares that are not kept, so that their lots lie as is wished.

        Where none such is found the lots are left out of it.
        """
        knitted = {square.place for square in self.squares if square.state == StoredState.FINISHED}
        wish = forgiving(self.plan, self._wish(self.kept, {}), knitted & self.kept.keys())
        lots = self.lot_wishes(self.kept)
        return self._answer(self.kept, list(self._needed(self.kept)), wish, lots, effort)

    def repaired(self, place: Place, name: str) -> PlanAnswer:
        """The plan around ``place`` in that colour: as few other squares as can be change.

        Lots that lie as is wished do so after it as well, where there is a way.
        """
        kept = {**self.kept, place: name}
        wish = forgiving(self.plan, self._wish(kept, self.colours), kept.keys() - {place})
        lots = self.lot_wishes(self.colours)
        lie = lots_lie(self.plan, self.colours, lots)
        lots = self.lot_wishes({**self.colours, place: name}) if lie else {}
        return self._answer(kept, [name], wish, lots, EFFORT)

    def possible(self, place: Place) -> list[str]:
        """The colours of the palette that the square, not finished, may have."""
        kept = {other: name for other, name in self.kept.items() if other != place}
        wish = forgiving(self.plan, self._wish(kept, self.colours), kept)
        return still_possible(self.plan, wish, place, effort=EFFORT_FOR_ONE)

    def _answer(
        self,
        kept: Mapping[Place, str],
        told: Sequence[str],
        wish: Wish,
        lots: Mapping[str, LotWish],
        effort: int,
    ) -> PlanAnswer:
        """``told``: the colours that must suffice for what is kept."""
        needed, rooms = (
            self._needed(kept),
            {hue.name: self.room(hue) for hue in self.wanted.palette},
        )
        short = list(kept_short({name: needed[name] for name in told}, rooms))
        if short:
            return Impossible(short)
        return plan_with_lots(self.plan, wish, lots, effort=effort)

    def _needed(self, kept: Mapping[Place, str]) -> Counter[str]:
        """The units of each colour that kept squares still take."""
        needed: Counter[str] = Counter()
        for square in self.squares:
            if square.place in kept and square.state != StoredState.FINISHED:
                needed[kept[square.place]] += square.size**2
        return needed

    def _wish(self, kept: Mapping[Place, str], near: Mapping[Place, str]) -> Wish:
        """Yarn that somebody brought for their own square alone is no part of the pattern.

        Nobody knows in which yarn a finished square without a colour was knitted.
        """
        unknown = {
            square.place: f"? {square.place}"
            for square in self.squares
            if square.state == StoredState.FINISHED and not square.colour
        }
        needed, used = self._needed(kept), Counter(kept.values())
        colours = {}
        for hue in self.wanted.palette:
            if hue.own and hue.at_most is not None and hue.at_most <= used[hue.name]:
                continue
            units = self.room(hue)
            colours[hue.name] = None if units is None else max(units - needed[hue.name], 0)
        return Wish(
            pattern=self.wanted.pattern,
            colours=colours,
            at_most={
                hue.name: hue.at_most for hue in self.wanted.palette if hue.at_most is not None
            },
            apart=self.wanted.apart,
            over_seams=self.wanted.over_seams,
            kept={**unknown, **kept},
            near={place: name for place, name in near.items() if place not in kept},
        )


def draft(
    blanket: Blanket, wanted: ColoursWanted, squares: Sequence[Square] | None = None
) -> Draft:
    """Of the blanket with ``squares``, read if not given; about eight queries for the yarn."""
    plan = blanket.plan()
    if squares is None:
        squares = list(blanket.squares.order_by("pk"))
    stocks = stock(blanket.drive.circle)
    lots = lots_of(blanket, stocks)
    known = weights(blanket, used_in(lots))
    grams = left_for(blanket, lots, known)
    return Draft(blanket, plan, squares, wanted, stocks, known, grams, lots)
