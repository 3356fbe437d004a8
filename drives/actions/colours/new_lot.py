"""A dye lot that is placed in a blanket's plan before it is bought."""

from datetime import datetime

from accounts.models import Member
from drives.actions.locks import hold_all_squares, hold_blanket, hold_yarn
from drives.actions.log import note_blanket, note_circle
from drives.actions.yarn.refusals import no_such_lot
from drives.actions.yarn.reservations import expect, require_not_given
from drives.actions.yarn.store import Names
from drives.craft.yarn.lots import LotWay
from drives.models import Blanket, LotChoice, Yarn
from drives.readings.lots import lots_of
from drives.readings.stock import stock
from shared.basics.totals import require_room
from shared.basics.transactions import writing

from .lots import lay, require_alike

OF_THE_YARN = (
    *("value", "category", "fibres", "metres_per_100_grams", "ball_grams", "price"),
    *("care", "swatch_stitches", "swatch_rows", "swatch_grams"),
)


def plan_new_lot(
    *,
    blanket: Blanket,
    colour: str,
    dye_lot: str,
    grams: int,
    way: LotWay | None = None,
    by: Member,
    now: datetime,
) -> Yarn:
    """So many ``grams`` of this ``dye_lot`` of the ``colour`` are to be bought for the blanket.

    The plan places them with the lots that count for it already, as those meet, or else in this
    ``way``. The lot is noted as one more of the yarn that is there; 0 grams take it out again, and
    a lot of which there never was any goes from the store too.
    Refused: no-such-lot, lots-unlike, blanket-is-given.
    """
    with writing():
        names = Names(blanket.drive.circle)
        blanket, _plan = hold_blanket(blanket)
        squares = hold_all_squares(blanket)
        require_not_given(blanket)
        stocks = stock(names.circle)
        if colour not in stocks:
            raise no_such_lot(colour)
        lots = lots_of(blanket, {colour: stocks[colour]})
        yarn = Yarn.objects.filter(circle=names.circle, colour=colour, dye_lot=dye_lot).first()
        if yarn is None and not grams:
            raise no_such_lot(colour)
        yarn = hold_yarn(yarn) if yarn else _noted(names, lots[colour].yarns[0], dye_lot, by, now)
        if not expect(blanket, yarn, grams):
            return yarn
        counted = {lot.yarn.pk: lot.yarn for lot in lots[colour].used if lot.grams or lot.to_come}
        if grams:
            counted[yarn.pk] = yarn
        elif not next(lot.grams for lot in lots[colour].every if lot.yarn.pk == yarn.pk):
            counted.pop(yarn.pk, None)
        _count(blanket, colour, list(counted.values()), lots[colour].way or way)
        lay(blanket, squares)
        facts = {"yarn": str(yarn), "id": yarn.pk, "grams": grams}
        note_blanket(blanket, by, "lot-planned", now, **facts)
        if not grams and _only_planned(yarn):
            Yarn.objects.filter(pk=yarn.pk).delete()
    return yarn


def _noted(names: Names, like: Yarn, dye_lot: str, by: Member, now: datetime) -> Yarn:
    """One more lot ``like`` the one that is there, with nothing of it yet."""
    require_room("yarns", Yarn.objects.filter(circle=names.circle))
    facts = {name: getattr(like, name) for name in OF_THE_YARN}
    yarn = Yarn.objects.create(
        circle=names.circle, colour=like.colour, dye_lot=dye_lot, added_at=now, **facts
    )
    note_circle(names.circle, by, "yarn-added", now, yarn=str(yarn), id=yarn.pk, grams=0)
    return yarn


def _only_planned(yarn: Yarn) -> bool:
    """Whether nothing but a plan that is given up ever spoke of the held yarn."""
    used = (yarn.moves, yarn.holdings, yarn.reservations, yarn.squares, yarn.lot_choices)
    return not yarn.grams and not any(each.exists() for each in used)


def _count(blanket: Blanket, colour: str, yarns: list[Yarn], way: LotWay | None) -> None:
    """These count together for the blanket; one alone needs no choice."""
    if len(yarns) < 2:
        LotChoice.objects.filter(blanket=blanket, colour=colour).delete()
        return
    require_alike(colour, yarns)
    choice, _new = LotChoice.objects.get_or_create(
        blanket=blanket,
        colour=colour,
        defaults={"way": (way or LotWay.NEVER_SIDE_BY_SIDE).value},
    )
    choice.yarns.set(yarns)
