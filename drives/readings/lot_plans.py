"""Which dye lot each square of a blanket is knitted in, as its colours lie."""

from collections.abc import Mapping
from typing import NamedTuple

from drives.craft.colours.lots import place_lots
from drives.craft.colours.task import Spent
from drives.craft.places import Place

from .colour_plans import Draft


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
