"""Which dye lot each square of a blanket is knitted in, as its colours lie."""

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import NamedTuple

from drives.craft.colours.lots import place_lots
from drives.craft.colours.task import Spent
from drives.craft.places import Place
from drives.models.blanket import Blanket
from drives.models.square import StoredState

from .colour_plans import Draft, colours_wanted, draft
from .lots import Lots


class LotPlan(NamedTuple):
    """``lots``: of each square that is not begun, the id of its yarn, or None.

    ``unplaced``: the colours of which several lots were chosen that cannot lie as is wished.
    """

    lots: dict[Place, int | None]
    unplaced: list[str]


def lot_plan(making: Draft, colours: Mapping[Place, str]) -> LotPlan:
    """For the blanket with these ``colours``. What is begun keeps its lot."""
    lots: dict[Place, int | None] = {
        square.place: None
        for square in making.squares
        if not making.keeps_lot(square, colours.get(square.place, ""))
    }
    unplaced = []
    for name, (way, rooms, kept, near) in making.lot_wishes(colours).items():
        squares = [
            place for place in making.plan.places if colours.get(place) == name and place in lots
        ]
        try:
            found = place_lots(making.plan, way, squares, rooms, kept=kept, near=near)
        except Spent:
            found = None
        if found is None:
            unplaced.append(name)
        lots |= found or {}
    return LotPlan(lots, unplaced)


def overfull(making: Draft) -> set[int]:
    """The yarns, by id, in which more squares are to be knitted than there is yarn for.

    Of the lots that count together; their grams may have changed since they were laid.
    """
    units: Counter[int] = Counter()
    for square in making.squares:
        if square.dye_lot_id is not None and square.state != StoredState.FINISHED:
            units[square.dye_lot_id] += square.size**2
    rooms = [making.lot_rooms(name) for name, lots in making.lots.items() if lots.way]
    return {
        yarn
        for each in rooms
        for yarn, room in each.items()
        if room is not None and units[yarn] > room
    }


def overfull_of(blanket: Blanket, lots: Iterable[Lots | None]) -> set[int]:
    """The same, of a blanket with these ``lots``; no query where each colour has but one."""
    if not any(each and each.way for each in lots):
        return set()
    return overfull(draft(blanket, colours_wanted(blanket)))
