"""Grams of a colour that the books have, and that are not there for a blanket."""

from collections import Counter
from collections.abc import Iterable, Mapping
from datetime import datetime
from typing import NamedTuple

from django.db.models import F, Sum

from drives.models.blanket import Blanket
from drives.models.square import Square
from drives.models.yarn import Move, YarnWay

from .lots import Lots, used_in
from .weights import Weights, stitches, weights, weights_of


class Demand(NamedTuple):
    """Grams of the lots of a colour that are not there for a blanket, though the books have them.

    ``others``: what the circle's other blankets still need of the colour beyond what is reserved
    for them; nobody knows of which lot. ``knitted``: what has gone into finished squares, of all
    blankets, and was never noted as knitted up; ``own`` of it into the blanket's own.
    """

    others: float = 0.0
    knitted: float = 0.0
    own: float = 0.0


class _Knitted(NamedTuple):
    """A finished square of a colour; ``own``: of the blanket that is looked at."""

    grams: float
    at: datetime
    own: bool


def demands(
    blanket: Blanket, lots: Mapping[str, Lots], known: Weights | None = None
) -> dict[str, Demand]:
    """For each colour of ``lots``; at most four queries, and one more without ``known``.

    Squares that are not weighed count with the mean of what is known of their blanket, or else of
    this one by ``known``. Those that were finished before the first of the used lots was noted are
    not of them.
    """
    if not lots:
        return {}
    squares = Square.objects.filter(colour__in=lots, blanket__drive__circle=blanket.drive.circle_id)
    rows = list(squares.values_list("blanket_id", "colour", "size", "grams", "finished_at"))
    blankets = Blanket.objects.in_bulk({row[0] for row in rows})
    yarns = used_in(lots)
    theirs = weights_of(list(blankets.values()), yarns)
    ours = weights(blanket, yarns) if known is None else known
    others: dict[str, dict[int, float]] = {name: {} for name in lots}
    knitted: dict[str, list[_Knitted]] = {name: [] for name in lots}
    for pk, name, size, grams, finished_at in rows:
        per_stitch = theirs[pk].get(name) or ours.get(name)
        usual = per_stitch.mean * stitches(blankets[pk], size) if per_stitch else 0.0
        if finished_at is not None:
            weight = usual if grams is None else float(grams)
            knitted[name].append(_Knitted(weight, finished_at, pk == blanket.pk))
        elif pk != blanket.pk:
            others[name][pk] = others[name].get(pk, 0.0) + usual
    noted = _written_off(lots)
    return {
        name: Demand(_beyond(each, others[name]), *_not_noted(each, knitted[name], noted))
        for name, each in lots.items()
    }


def _beyond(lots: Lots, needed: Mapping[int, float]) -> float:
    """Of what other blankets need of a colour, by their ids, what is not reserved for them."""
    reserved: Counter[int] = Counter()
    for lot in lots.every:
        reserved += Counter(lot.promised)
    return sum(max(grams - reserved[pk], 0.0) for pk, grams in needed.items())


def _not_noted(
    lots: Lots, knitted: Iterable[_Knitted], noted: Mapping[int, int]
) -> tuple[float, float]:
    """What is off the books of a lot that lies apart was knitted of that one."""
    since = min(lot.yarn.added_at for lot in lots.used)
    gone = [each for each in knitted if each.at >= since]
    off = sum(noted.get(lot.yarn.pk, 0) for lot in lots.every)
    left = max(sum(each.grams for each in gone) - off, 0.0)
    return left, min(sum(each.grams for each in gone if each.own), left)


def _written_off(lots: Mapping[str, Lots]) -> dict[int, int]:
    """The grams of each yarn that are off the books, as knitted up or by a new count."""
    yarns = [lot.yarn for each in lots.values() for lot in each.every]
    moves = Move.objects.filter(yarn__in=yarns, way__in=(YarnWay.KNITTED, YarnWay.COUNTED))
    gone = moves.annotate(change=F("grams") + F("held")).filter(change__lt=0)
    return dict(gone.order_by().values_list("yarn").annotate(grams=-Sum("change")))


def left_for(
    blanket: Blanket, lots: Mapping[str, Lots], known: Weights | None = None
) -> dict[str, float]:
    """The grams of each colour that are there for this blanket, after all ``demands``."""
    return {
        name: there(lots[name], demand) for name, demand in demands(blanket, lots, known).items()
    }


def there(lots: Lots, demand: Demand) -> float:
    """The grams of the used lots that are there for a blanket: what is reserved, and what is free.

    What others still need, and what they have knitted up beyond their reservations, is taken from
    what is free; what the blanket's own squares have taken, from all of it.
    """
    promised = sum(sum(lot.promised.values()) for lot in lots.used)
    theirs = max(demand.knitted - demand.own - promised, 0.0)
    free = sum(lot.free for lot in lots.used) - demand.others - theirs
    reserved = sum(lot.reserved for lot in lots.used)
    return max(reserved + max(free, 0.0) - demand.own, 0.0)


def lot_grams(lots: Lots, grams: float) -> dict[int, float]:
    """So many ``grams``, which are there of the used lots together, by their yarns' ids.

    What is missing of a lot is taken from the one that has most, as nobody knows of which it is.
    """
    found = {lot.yarn.pk: float(lot.reserved + lot.free) for lot in lots.used}
    missing = sum(found.values()) - grams
    for pk in sorted(found, key=lambda each: -found[each]):
        less = min(found[pk], max(missing, 0.0))
        found[pk] -= less
        missing -= less
    return found
