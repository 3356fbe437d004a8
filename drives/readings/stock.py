"""What a circle has of each colour, and how far it goes on a blanket."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from django.db.models import F, Sum

from accounts.models import Circle
from drives.craft.yarn.weighing import PerStitch
from drives.models.blanket import Blanket
from drives.models.square import Square
from drives.models.yarn import Move, Yarn, YarnWay

from .weights import Weights, stitches, weights, weights_of


@dataclass
class Stock:
    """The yarns of one colour name; grams ``stored`` and in members' hands (``held``)."""

    yarns: list[Yarn] = field(default_factory=list)
    stored: int = 0
    held: int = 0

    @property
    def grams(self) -> int:
        return self.stored + self.held


def stock(circle: Circle) -> dict[str, Stock]:
    """By colour, in alphabetical order: one query."""
    found: dict[str, Stock] = {}
    yarns = Yarn.objects.filter(circle=circle).annotate(in_hands=Sum("holdings__grams", default=0))
    for yarn in yarns.order_by("colour", "dye_lot", "id"):
        of_colour = found.setdefault(yarn.colour, Stock())
        of_colour.yarns.append(yarn)
        of_colour.stored += yarn.grams
        of_colour.held += yarn.in_hands
    return found


def yarns_in(stocks: Mapping[str, Stock]) -> list[Yarn]:
    return [yarn for each in stocks.values() for yarn in each.yarns]


class Demand(NamedTuple):
    """Grams of a colour that are not there for a blanket, though the books have them.

    ``others``: what the circle's other blankets still need of it. ``knitted``: what has gone into
    finished squares, of all blankets, and was never noted as knitted up.
    """

    others: float = 0.0
    knitted: float = 0.0


def demands(
    blanket: Blanket, stocks: Mapping[str, Stock], known: Weights | None = None
) -> dict[str, Demand]:
    """For each colour of ``stocks``; at most four queries, and one more without ``known``.

    Squares that are not weighed count with the mean of what is known of their blanket, or else of
    this one by ``known``. Those that were finished before the first yarn of their colour was noted
    are not of it.
    """
    if not stocks:
        return {}
    squares = Square.objects.filter(
        colour__in=stocks, blanket__drive__circle=blanket.drive.circle_id
    )
    rows = list(squares.values_list("blanket_id", "colour", "size", "grams", "finished_at"))
    blankets = Blanket.objects.in_bulk({row[0] for row in rows})
    yarns = yarns_in(stocks)
    theirs = weights_of(list(blankets.values()), yarns)
    ours = weights(blanket, yarns) if known is None else known
    others, knitted = dict.fromkeys(stocks, 0.0), dict.fromkeys(stocks, 0.0)
    for pk, name, size, grams, finished_at in rows:
        per_stitch = theirs[pk].get(name) or ours.get(name)
        usual = per_stitch.mean * stitches(blankets[pk], size) if per_stitch else 0.0
        if finished_at is None:
            others[name] += usual if pk != blanket.pk else 0.0
        elif finished_at >= min(yarn.added_at for yarn in stocks[name].yarns):
            knitted[name] += usual if grams is None else float(grams)
    noted = _written_off(stocks)
    return {
        name: Demand(others[name], max(knitted[name] - noted.get(name, 0), 0.0)) for name in stocks
    }


def _written_off(stocks: Mapping[str, Stock]) -> dict[str, int]:
    """The grams of each colour that are off the books, as knitted up or by a new count."""
    moves = Move.objects.filter(
        yarn__in=yarns_in(stocks), way__in=(YarnWay.KNITTED, YarnWay.COUNTED)
    )
    gone = moves.annotate(change=F("grams") + F("held")).filter(change__lt=0)
    return dict(gone.order_by().values_list("yarn__colour").annotate(grams=-Sum("change")))


def left_for(
    blanket: Blanket, stocks: Mapping[str, Stock], known: Weights | None = None
) -> dict[str, float]:
    """The grams of each colour that are there for this blanket, after all ``demands``."""
    return {
        name: max(stocks[name].grams - demand.others - demand.knitted, 0.0)
        for name, demand in demands(blanket, stocks, known).items()
    }


def suffices_for(
    blanket: Blanket, known: Weights, grams: Mapping[str, float], margin: int
) -> dict[str, int | None]:
    """For how many more squares of one unit so many ``grams`` of each colour suffice.

    With a ``margin`` in per cent; None where nothing is known of what a square weighs.
    """
    unit = stitches(blanket, 1) * (1 + margin / 100)
    return {name: _squares(known[name], there, unit) for name, there in grams.items()}


def _squares(per_stitch: PerStitch | None, grams: float, unit: float) -> int | None:
    return None if per_stitch is None else int(grams / (per_stitch.mean * unit))
