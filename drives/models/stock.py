"""What a circle has of each colour, and how far it goes on a blanket."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from django.db.models import Sum

from accounts.models import Circle
from drives.craft.rows import worked
from drives.craft.weighing import PerStitch

from .blanket import Blanket
from .square import Square, State
from .weights import weights
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


def left_for(blanket: Blanket, stocks: Mapping[str, Stock]) -> dict[str, float]:
    """The grams of each colour that the circle's other blankets do not need any more.

    What they need is the mean of what their unfinished squares of the colour will take; where
    nothing is known of a square's weight, that of this blanket's.
    """
    yarns = [yarn for each in stocks.values() for yarn in each.yarns]
    left = {name: float(each.grams) for name, each in stocks.items()}
    others = Blanket.objects.filter(drive__circle=blanket.drive.circle).exclude(pk=blanket.pk)
    unfinished = Square.objects.exclude(state=State.FINISHED).exclude(colour="")
    for other in others.filter(pk__in=unfinished.values("blanket")):
        known = weights(other, yarns)
        for name, size in unfinished.filter(blanket=other).values_list("colour", "size"):
            grams = known.get(name)
            if name in left and grams is not None:
                stitches = worked(size * other.stitches, other.plan().layout.mitre)
                left[name] -= grams.mean * stitches
    return {name: max(grams, 0.0) for name, grams in left.items()}


def room(blanket: Blanket, stocks: Mapping[str, Stock]) -> dict[str, int | None]:
    """For how many more squares of one unit each colour suffices, with the blanket's margin.

    None where nothing is known of what a square weighs.
    """
    yarns = [yarn for each in stocks.values() for yarn in each.yarns]
    known = weights(blanket, yarns)
    unit = worked(blanket.stitches, blanket.plan().layout.mitre)
    kept_back = 1 + blanket.colour_margin / 100
    return {
        name: _squares(known[name], grams, unit * kept_back)
        for name, grams in left_for(blanket, stocks).items()
    }


def _squares(per_stitch: PerStitch | None, grams: float, stitches: float) -> int | None:
    return None if per_stitch is None else int(grams / (per_stitch.mean * stitches))
