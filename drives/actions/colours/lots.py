"""Which dye lots of a colour count together for a blanket."""

from collections.abc import Collection, Sequence
from datetime import datetime

from accounts.models import Member
from drives.actions.locks import hold_all_squares, hold_blanket
from drives.actions.log import note_blanket
from drives.actions.yarn.refusals import lots_unlike, no_such_lot, one_lot_alone
from drives.craft.yarn.lots import LotWay, unlike
from drives.models import Blanket, LotChoice, Square, Yarn
from drives.readings.colour_plans import Draft, colours_wanted, draft
from drives.readings.lot_plans import overfull
from shared.basics.changes import save_changed
from shared.basics.transactions import writing

from .lay_lots import lay_lots


def choose_lots(
    *, blanket: Blanket, colour: str, yarns: Collection[int], way: LotWay, by: Member, now: datetime
) -> bool:
    """These ``yarns`` of the ``colour``, by their ids, count together and meet in this ``way``.

    The squares that are not begun get their lots by it. Answers whether it was otherwise before,
    or more squares lay in one of the lots than it suffices for.
    Refused: no-such-lot, one-lot-alone, lots-unlike.
    """
    with writing():
        blanket, _plan = hold_blanket(blanket)
        chosen = list(
            Yarn.objects.filter(circle=blanket.drive.circle_id, colour=colour, pk__in=yarns)
        )
        if len(chosen) < len(set(yarns)):
            raise no_such_lot(colour)
        require_alike(colour, chosen)
        choice = LotChoice.objects.filter(blanket=blanket, colour=colour).first()
        if choice is None:
            choice = LotChoice.objects.create(blanket=blanket, colour=colour, way=way.value)
        elif choice.way == way and {*choice.yarns.all()} == {*chosen}:
            if not overfull(_making(blanket)) & {yarn.pk for yarn in chosen}:
                return False
        else:
            save_changed(choice, {"way": way.value})
        choice.yarns.set(chosen)
        lay(blanket)
        lots = [yarn.dye_lot for yarn in chosen]
        note_blanket(blanket, by, "lots-chosen", now, colour=colour, lots=lots, way=way.value)
    return True


def keep_to_one_lot(*, blanket: Blanket, colour: str, by: Member, now: datetime) -> bool:
    """One lot of the ``colour`` counts alone again; whether it was otherwise before."""
    with writing():
        blanket, _plan = hold_blanket(blanket)
        gone, _rows = LotChoice.objects.filter(blanket=blanket, colour=colour).delete()
        if gone:
            lay(blanket)
            note_blanket(blanket, by, "one-lot-chosen", now, colour=colour)
    return gone > 0


def lay(blanket: Blanket, squares: Sequence[Square] | None = None) -> None:
    """Give the ``squares`` of the held blanket, held too, their lots, as its colours lie."""
    making = _making(blanket, squares)
    lay_lots(making, making.colours)


def _making(blanket: Blanket, squares: Sequence[Square] | None = None) -> Draft:
    held = hold_all_squares(blanket) if squares is None else squares
    return draft(blanket, colours_wanted(blanket), held)


def require_alike(colour: str, yarns: list[Yarn]) -> None:
    """Refused: one-lot-alone, lots-unlike."""
    if len(yarns) < 2:
        raise one_lot_alone(colour)
    first, *others = yarns
    for other in others:
        if why := unlike(first.strand, other.strand):
            raise lots_unlike(first, other, why)
