"""How many grams go into a stitch of a blanket, by colour: from the best ground that there is."""

from collections.abc import Iterable, Mapping, Sequence

from drives.craft.layout.layout import Mitre
from drives.craft.layout.rows import worked
from drives.craft.places import Place
from drives.craft.yarn.weighing import PerStitch, Weighed, best, likely
from drives.craft.yarn.yarn import CATEGORIES
from drives.models.blanket import Blanket
from drives.models.square import Square
from drives.models.yarn import Yarn

ENOUGH_WEIGHED = 3  # squares of a colour, from which on they tell more than all squares
SCALE_STEP = 1.0  # grams: the steps of a kitchen scale

Weights = Mapping[str, PerStitch | None]


def weights(blanket: Blanket, yarns: Sequence[Yarn] = ()) -> Weights:
    """For each colour of the blanket's squares and of ``yarns``; None where nothing is known.

    Weighed squares of the colour, if there are ``ENOUGH_WEIGHED``, else of the whole blanket, else
    the swatch of a yarn of the colour, else its category. One query.
    """
    return weights_of([blanket], yarns)[blanket.pk]


def weights_of(blankets: Sequence[Blanket], yarns: Sequence[Yarn] = ()) -> dict[int, Weights]:
    """``weights`` of several blankets by their ids, in one query for all of them."""
    weighed: dict[int, dict[str, list[Weighed]]] = {blanket.pk: {} for blanket in blankets}
    of = {blanket.pk: blanket for blanket in blankets}
    squares = Square.objects.filter(blanket__in=blankets).order_by("row", "column")
    for pk, column, row, size, colour, grams in squares.values_list(
        "blanket_id", "column", "row", "size", "colour", "grams"
    ):
        of_colour = weighed[pk].setdefault(colour, [])
        if grams is not None:
            of_colour.append(Weighed(Place(column, row), stitches(of[pk], size), float(grams)))
    return {blanket.pk: _by_colour(blanket, weighed[blanket.pk], yarns) for blanket in blankets}


def weighed_so_far(blanket: Blanket) -> PerStitch | None:
    """From all weighed squares of the blanket alone, whatever their colour; one query."""
    squares = blanket.squares.exclude(grams=None).order_by("row", "column")
    return best(
        [
            Weighed(Place(column, row), stitches(blanket, size), float(grams))
            for column, row, size, grams in squares.values_list("column", "row", "size", "grams")
            if grams is not None
        ],
        scale=SCALE_STEP,
    )


def is_odd(square: Square) -> bool:
    """Whether its weight is so far from the others that it is left out; one query if weighed."""
    known = weights(square.blanket)[square.colour] if square.grams is not None else None
    return known is not None and square.place in {each.place for each in known.left_out}


def is_unlikely(square: Square) -> bool:
    """Whether so many stitches hardly weigh so much in any yarn."""
    usual = likely(stitches(square.blanket, square.size), float(square.blanket.gauge))
    return square.grams is not None and not usual.low <= square.grams <= usual.high


def stitches(blanket: Blanket, size: int) -> int:
    """The stitches worked in a square of ``size`` units."""
    return worked(blanket.side_stitches(size), Mitre(blanket.mitre))


def _by_colour(
    blanket: Blanket, weighed: Mapping[str, list[Weighed]], yarns: Iterable[Yarn]
) -> Weights:
    everything = [each for some in weighed.values() for each in some]
    of_colour: dict[str, list[Yarn]] = {name: [] for name in weighed}
    for yarn in yarns:
        of_colour.setdefault(yarn.colour, []).append(yarn)
    return {
        name: _best(blanket, weighed.get(name, ()), everything, same)
        for name, same in of_colour.items()
    }


def _best(
    blanket: Blanket, own: Sequence[Weighed], everything: Sequence[Weighed], yarns: Sequence[Yarn]
) -> PerStitch | None:
    swatch = next((yarn.swatch for yarn in yarns if yarn.swatch), None)
    numbers = {yarn.category for yarn in yarns}
    category = next((each for each in CATEGORIES if each.number in numbers), None)
    return best(
        own if len(own) >= ENOUGH_WEIGHED else everything,
        swatch,
        category,
        float(blanket.gauge),
        scale=SCALE_STEP,
    )
