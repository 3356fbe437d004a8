"""Giving squares the dye lots of their colours."""

from collections.abc import Mapping

from drives.craft.places import Place
from drives.models import Square
from drives.readings.colour_plans import Draft
from drives.readings.lot_plans import lot_plan


def lay_lots(making: Draft, colours: Mapping[Place, str]) -> list[str]:
    """Write the lots of the held squares as ``colours`` lie; answers the colours left without.

    Of a colour whose lots cannot lie as is wished, no square that is not begun has one.
    """
    found = lot_plan(making, colours)
    changed = [
        square
        for square in making.squares
        if square.place in found.lots and square.dye_lot_id != found.lots[square.place]
    ]
    for square in changed:
        square.dye_lot_id = found.lots[square.place]
    Square.objects.bulk_update(changed, ["dye_lot"], batch_size=500)
    return found.unplaced
