"""Which dye lot each square of a blanket is knitted in, as its colours lie."""

from collections import Counter
from collections.abc import Mapping
from typing import NamedTuple

from drives.craft.colours.lots import place_lots
from drives.craft.colours.task import Spent
from drives.craft.places import Place
from drives.models.square import StoredState

from .colour_plans import Draft


class LotPlan(NamedTuple):
    """``lots``: of each square that is not begun, the id of its yarn, or None.

    ``unplaced``: the colours of which several lots were chosen that cannot lie as is wished.
    """

    lots: dict[Place, int | None]
    unplaced: list[str]


def lot_plan(making: Draft, colours: Mapping[Place, str]) -> LotPlan:
    """For the blanket with these ``colours``. What is begun keeps its lot."""
    begun = {square.place for square in making.squares if square.state != StoredState.OPEN}
    lots: dict[Place, int | None] = {
        square.place: None for square in making.squares if square.place not in begun
    }
    unplaced = []
    for name, of_colour in making.lots.items():
        if not of_colour.way:
            continue
        own = [place for place in making.plan.places if colours.get(place) == name]
        found = _placed(making, name, own, begun) if own else {}
        if found is None:
            unplaced.append(name)
        lots |= found or {}
    return LotPlan(lots, unplaced)


def _placed(
    making: Draft, name: str, own: list[Place], begun: set[Place]
) -> Mapping[Place, int] | None:
    """None where there is no way, or none was found in the time."""
    used: Counter[int] = Counter()
    kept: dict[Place, int | None] = {}
    near: dict[Place, int] = {}
    for square in making.squares:
        if square.place not in own:
            continue
        if square.place in begun:
            kept[square.place] = square.dye_lot_id
        elif square.dye_lot_id is not None:
            near[square.place] = square.dye_lot_id
        if square.state == StoredState.TAKEN and square.dye_lot_id is not None:
            used[square.dye_lot_id] += square.size**2
    rooms = {
        lot: None if units is None else max(units - used[lot], 0)
        for lot, units in making.lot_rooms(name).items()
    }
    way = making.lots[name].way
    assert way
    squares = [place for place in own if place not in begun]
    try:
        return place_lots(making.plan, way, squares, rooms, kept=kept, near=near)
    except Spent:
        return None
