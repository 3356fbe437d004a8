"""What a circle has of each colour, and how far it goes on a blanket."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from django.db.models import Sum

from accounts.models import Circle
from drives.craft.yarn.weighing import PerStitch
from drives.models.blanket import Blanket
from drives.models.yarn import Yarn

from .weights import Weights, stitches


@dataclass
class Stock:
    """The yarns of one colour name; grams ``stored`` and in members' hands (``held``).

    They are of several dye lots, which count together only where somebody has chosen so: ``lots``.
    """

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
