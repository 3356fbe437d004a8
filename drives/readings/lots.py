"""The dye lots of a colour as one blanket sees them: which count for it, and which lie apart."""

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from drives.craft.yarn.lots import LotWay, Unlike, unlike
from drives.models.blanket import Blanket
from drives.models.lots import LotChoice
from drives.models.yarn import Yarn

from .stock import Stock


class Lot(NamedTuple):
    """One yarn in one dye lot: grams ``stored`` and ``held`` in members' hands."""

    yarn: Yarn
    stored: int
    held: int

    @property
    def grams(self) -> int:
        return self.stored + self.held


class Apart(NamedTuple):
    """A lot that is not counted; ``why`` it could not be, or None: nobody has chosen so."""

    lot: Lot
    why: Unlike | None


class Lots(NamedTuple):
    """Those ``used``, at least one, and those ``apart``, the largest first.

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


def lots_of(blanket: Blanket, stocks: Mapping[str, Stock]) -> dict[str, Lots]:
    """By colour, for each of the ``stocks``: one query."""
    chosen = _chosen(blanket)
    return {name: _lots(each, *chosen.get(name, (None, ()))) for name, each in stocks.items()}


def used_in(lots: Mapping[str, Lots]) -> list[Yarn]:
    """The yarns whose weight and thickness count."""
    return [yarn for each in lots.values() for yarn in each.yarns]


def _chosen(blanket: Blanket) -> dict[str, tuple[LotWay, set[int]]]:
    through = LotChoice.yarns.through.objects.filter(lotchoice__blanket=blanket)
    found: dict[str, tuple[LotWay, set[int]]] = {}
    for colour, way, yarn in through.values_list("lotchoice__colour", "lotchoice__way", "yarn_id"):
        found.setdefault(colour, (LotWay(way), set()))[1].add(yarn)
    return found


def _lots(stock: Stock, way: LotWay | None, chosen: Iterable[int]) -> Lots:
    lots = sorted(map(_lot, stock.yarns), key=lambda lot: -lot.grams)
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


def _lot(yarn: Yarn) -> Lot:
    there: int = getattr(yarn, "in_hands")  # noqa: B009 - annotated by ``stock``
    return Lot(yarn, yarn.grams, there)
