"""Giving squares their yarn colours, by hand."""

from collections.abc import Mapping
from datetime import datetime

from accounts.models import Member
from drives.actions.locks import hold_all_squares, hold_blanket
from drives.actions.log import note_blanket
from drives.craft.places import Place
from drives.models import Blanket, Square, StoredState
from drives.readings.colour_plans import colours_wanted, draft
from shared.basics.transactions import writing

from .lay_lots import lay_lots
from .palettes import note_wanted, without_former


def colour_squares(
    *, blanket: Blanket, by: Member, colours: Mapping[Place, str], now: datetime
) -> list[Place]:
    """Name the yarn colour of these squares, for good; blank: none, until the next plan.

    Answers those that changed. Finished squares keep theirs, if they have one, and a place without
    a square is passed over: the layout may have changed meanwhile.
    """
    with writing():
        blanket, _plan = hold_blanket(blanket)
        squares, asked, changed = hold_all_squares(blanket), colours_wanted(blanket), []
        for square in squares:
            named = colours.get(square.place)
            if named is None or (square.state == StoredState.FINISHED and square.colour):
                continue
            if (square.colour, square.colour_fixed) != (named, named != ""):
                asked = without_former(asked, squares, square)
                square.colour, square.colour_fixed = named, named != ""
                changed.append(square)
        Square.objects.bulk_update(changed, ["colour", "colour_fixed"], batch_size=500)
        if changed:
            note_wanted(blanket, asked)
            if blanket.lot_choices.exists():
                making = draft(blanket, asked, squares)
                lay_lots(making, making.colours)
            names = sorted({square.colour for square in changed})
            note_blanket(blanket, by, "coloured", now, squares=len(changed), colours=names)
    return sorted(square.place for square in changed)
