"""What a circle has of each colour, and how far it goes on a blanket."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from django.db.models import Sum

from accounts.models import Circle
from drives.craft.weighing import PerStitch

from .blanket import Blanket
from .square import Square, State
from .weights import Weights, stitches, weights, weights_of
from .yarn import Yarn


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


def left_for(
    blanket: Blanket, stocks: Mapping[str, Stock], known: Weights | None = None
) -> dict[str, float]:
    """The grams of each colour that the circle's other blankets do not need any more.

    What they need is the mean of what their unfinished squares of the colour will take; where
    nothing is known of them, by ``known``, what is known of this blanket. At most three queries,
    and one more without ``known``.
    """
    left = {name: float(each.grams) for name, each in stocks.items()}
    squares = Square.objects.exclude(state=State.FINISHED).filter(
        colour__in=left, blanket__drive__circle=blanket.drive.circle_id
    )
    wanted = squares.exclude(blanket=blanket).values_list("blanket_id", "colour", "size")
    others = Blanket.objects.in_bulk({pk for pk, _, _ in wanted})
    if not others:
        return left
    yarns = yarns_in(stocks)
    theirs = weights_of(list(others.values()), yarns)
    ours = weights(blanket, yarns) if known is None else known
    for pk, name, size in wanted:
        grams = theirs[pk].get(name) or ours.get(name)
        if grams is not None:
            left[name] -= grams.mean * stitches(others[pk], size)
    return {name: max(grams, 0.0) for name, grams in left.items()}


def room(blanket: Blanket, stocks: Mapping[str, Stock]) -> dict[str, int | None]:
    """For how many more squares of one unit each colour suffices, with the blanket's margin.

    None where nothing is known of what a square weighs.
    """
    known = weights(blanket, yarns_in(stocks))
    unit = stitches(blanket, 1) * (1 + blanket.colour_margin / 100)
    return {
        name: _squares(known[name], grams, unit)
        for name, grams in left_for(blanket, stocks, known).items()
    }


def _squares(per_stitch: PerStitch | None, grams: float, stitches: float) -> int | None:
    return None if per_stitch is None else int(grams / (per_stitch.mean * stitches))
