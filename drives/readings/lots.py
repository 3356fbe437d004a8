"""The dye lots of a colour as one blanket sees them: which count for it, and which lie apart."""

from collections.abc import Iterable, Mapping
from types import MappingProxyType
from typing import NamedTuple

from django.db.models import Q

from drives.craft.places import Place
from drives.craft.yarn.lots import LotWay, Unlike, unlike
from drives.models.blanket import Blanket
from drives.models.lots import LotChoice, Reservation
from drives.models.square import StoredState
from drives.models.yarn import Yarn

from .stock import Stock, yarns_in

Kept = dict[int, dict[int, tuple[int, int]]]
NOTHING: Mapping[int, int] = MappingProxyType({})


class Lot(NamedTuple):
    """One yarn in one dye lot: grams ``stored`` and ``held`` in members' hands.

    ``reserved`` of them are kept for the blanket, others ``promised`` to other blankets, by id.
    ``to_come``: grams more that are to be bought for the blanket.
    """

    yarn: Yarn
    stored: int
    held: int
    reserved: int = 0
    promised: Mapping[int, int] = NOTHING
    to_come: int = 0

    @property
    def grams(self) -> int:
        return self.stored + self.held

    @property
    def free(self) -> int:
        """What is kept for nobody."""
        return self.grams - self.reserved - sum(self.promised.values())


class Apart(NamedTuple):
    """A lot that is not counted; ``why`` it could not be, or None: nobody has chosen so."""

    lot: Lot
    why: Unlike | None


class Lots(NamedTuple):
    """Those ``used``, at least one, and those ``apart``.

    First comes of what most is reserved for the blanket, then of what it can have most, then what
    is to be bought for it.

    Several are used only where somebody has chosen so, with the ``way`` in which they meet.
    """

    used: tuple[Lot, ...]
    apart: tuple[Apart, ...] = ()
    way: LotWay | None = None

    @property
    def yarns(self) -> list[Yarn]:
        return [lot.yarn for lot in self.used]

    @property
    def grams(self) -> int:
        return sum(lot.grams for lot in self.used)

    @property
    def to_come(self) -> int:
        return sum(lot.to_come for lot in self.used)

    @property
    def every(self) -> list[Lot]:
        return [*self.used, *(each.lot for each in self.apart)]


def lots_of(blanket: Blanket, stocks: Mapping[str, Stock]) -> dict[str, Lots]:
    """By colour, for each of the ``stocks``: two queries."""
    chosen, kept = _chosen(blanket), _kept(stocks)
    return {
        name: _lots(
            [_lot(blanket, yarn, kept) for yarn in each.yarns], *chosen.get(name, (None, ()))
        )
        for name, each in stocks.items()
    }


def lots_placed(blanket: Blanket) -> dict[str, dict[int | None, list[Place]]]:
    """By colour, the squares that are knitted in each lot, by its yarn's id; one query.

    None: those that are not finished and have no lot.
    """
    found: dict[str, dict[int | None, list[Place]]] = {}
    done_in_any = Q(state=StoredState.FINISHED, dye_lot=None)
    squares = blanket.squares.exclude(done_in_any).order_by("row", "column")
    for column, row, colour, lot in squares.values_list("column", "row", "colour", "dye_lot"):
        found.setdefault(colour, {}).setdefault(lot, []).append(Place(column, row))
    return found


def used_in(lots: Mapping[str, Lots]) -> list[Yarn]:
    """The yarns whose weight and thickness count."""
    return [yarn for each in lots.values() for yarn in each.yarns]


def _chosen(blanket: Blanket) -> dict[str, tuple[LotWay, set[int]]]:
    through = LotChoice.yarns.through.objects.filter(lotchoice__blanket=blanket)
    found: dict[str, tuple[LotWay, set[int]]] = {}
    for colour, way, yarn in through.values_list("lotchoice__colour", "lotchoice__way", "yarn_id"):
        found.setdefault(colour, (LotWay(way), set()))[1].add(yarn)
    return found


def _kept(stocks: Mapping[str, Stock]) -> Kept:
    """The grams that are reserved, and those to come, by yarn and by blanket."""
    found: Kept = {}
    rows = Reservation.objects.filter(yarn__in=yarns_in(stocks)).order_by("pk")
    for yarn, blanket, *grams in rows.values_list("yarn_id", "blanket_id", "grams", "to_come"):
        found.setdefault(yarn, {})[blanket] = (grams[0], grams[1])
    return found


def _lots(lots: list[Lot], way: LotWay | None, chosen: Iterable[int]) -> Lots:
    lots.sort(key=lambda lot: (-lot.reserved, -lot.free, -lot.to_come))
    used = [lot for lot in lots if lot.yarn.pk in chosen]
    if not fit(lot.yarn for lot in used):  # something else has been found out about them since
        used, way = [], None
    used = used or lots[:1]
    apart = [lot for lot in lots if lot not in used]
    first = used[0].yarn.strand
    return Lots(
        tuple(used),
        tuple(Apart(lot, unlike(first, lot.yarn.strand)) for lot in apart),
        way,
    )


def fit(yarns: Iterable[Yarn]) -> bool:
    """Whether all of them may be knitted into one blanket as one colour; two at least."""
    strands = [yarn.strand for yarn in yarns]
    return len(strands) > 1 and not any(unlike(strands[0], each) for each in strands[1:])


def _lot(blanket: Blanket, yarn: Yarn, kept: Kept) -> Lot:
    in_hands: int = getattr(yarn, "in_hands")  # noqa: B009 - annotated by ``stock``
    rows = dict(kept.get(yarn.pk, {}))
    reserved, to_come = rows.pop(blanket.pk, (0, 0))
    promised = {pk: grams for pk, (grams, _to_come) in rows.items() if grams}
    return Lot(yarn, yarn.grams, in_hands, reserved, promised, to_come)
