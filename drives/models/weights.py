"""How many grams go into a stitch of a blanket, by colour: from the best ground that there is."""

from collections.abc import Mapping, Sequence

from drives.craft.places import Place
from drives.craft.rows import worked
from drives.craft.weighing import PerStitch, Weighed, best
from drives.craft.yarn import CATEGORIES

from .blanket import Blanket
from .square import Square
from .yarn import Yarn

OWN = 3  # weighed squares of a colour, from which on they tell more than those of all colours
SCALE = 1.0  # grams: the steps of a kitchen scale


def weights(blanket: Blanket, yarns: Sequence[Yarn] = ()) -> Mapping[str, PerStitch | None]:
    """For each colour of the blanket's squares and of ``yarns``; None where nothing is known.

    Weighed squares of the colour, if there are ``OWN``, else of the whole blanket, else the swatch
    of a yarn of the colour, else its category. One query.
    """
    weighed: dict[str, list[Weighed]] = {}
    squares = blanket.squares.order_by("row", "column")
    for square in squares.only("column", "row", "size", "colour", "grams", "blanket_id"):
        of_colour = weighed.setdefault(square.colour, [])
        if square.grams is not None:
            of_colour.append(_weighed(blanket, square))
    everything = [each for some in weighed.values() for each in some]
    names = dict.fromkeys([*weighed, *(yarn.colour for yarn in yarns)])
    return {
        name: _best(
            blanket, weighed.get(name, ()), everything, [y for y in yarns if y.colour == name]
        )
        for name in names
    }


def _weighed(blanket: Blanket, square: Square) -> Weighed:
    stitches = worked(square.size * blanket.stitches, blanket.plan().layout.mitre)
    return Weighed(Place(square.column, square.row), stitches, float(square.grams or 0))


def _best(
    blanket: Blanket, own: Sequence[Weighed], everything: Sequence[Weighed], yarns: Sequence[Yarn]
) -> PerStitch | None:
    swatch = next((yarn.swatch for yarn in yarns if yarn.swatch), None)
    numbers = {yarn.category for yarn in yarns}
    category = next((each for each in CATEGORIES if each.number in numbers), None)
    return best(
        own if len(own) >= OWN else everything,
        swatch,
        category,
        float(blanket.gauge),
        scale=SCALE,
    )
