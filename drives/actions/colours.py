"""Giving squares their yarn colours."""

from collections.abc import Mapping
from datetime import datetime

from accounts.models import Member
from drives.craft.places import Place
from drives.models import Blanket, Square
from shared.transactions import writing

from .locks import hold_blanket
from .log import note_blanket


def colour_squares(
    *, blanket: Blanket, by: Member, colours: Mapping[Place, str], now: datetime
) -> list[Place]:
    """Name the yarn colour of these squares (blank: none); answers those that changed.

    A place without a square is passed over: the layout may have changed meanwhile.
    """
    with writing():
        blanket, _plan = hold_blanket(blanket)
        squares = blanket.squares.select_for_update(no_key=True).order_by("pk")
        changed = [
            square
            for square in squares
            if colours.get(square.place, square.colour) != square.colour
        ]
        for square in changed:
            square.colour = colours[square.place]
        Square.objects.bulk_update(changed, ["colour"], batch_size=500)
        if changed:
            names = sorted({square.colour for square in changed})
            note_blanket(blanket, by, "coloured", now, squares=len(changed), colours=names)
    return sorted(square.place for square in changed)
