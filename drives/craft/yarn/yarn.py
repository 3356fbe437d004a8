"""How much yarn a blanket takes. Every estimate is a range and tells what it rests on."""

from collections.abc import Sequence
from statistics import fmean, stdev
from typing import NamedTuple

from drives.craft.numbers.ranges import Range

from .rests_on import Evidence, RestsOn

TAILS_SHARE = 0.03  # two tails of a hand's length to a square
CATEGORY_MARGIN = 0.10
# Yarn in one stitch, in widths of the stitch: 3.7 in a whole blanket that was measured
# (hunnibunnife.blogspot.com/2012/09/blanket-project-thursday-weeks-1.html), up to 5.7 in a
# weighed square (louisetilbrookdesigns.net, How much yarn do you need for a mitered square, 2023).
WIDTHS = Range(3.7, 5.7)


class Category(NamedTuple):
    """A category of the Craft Yarn Council's Standard Yarn Weight System.

    ``metres``: to 100 g; sources and countries differ, so it is a default and never a fact about a
    yarn at hand.
    """

    number: int
    metres: Range


CATEGORIES = (
    Category(0, Range(600, 800)),
    Category(1, Range(400, 480)),
    Category(2, Range(300, 400)),
    Category(3, Range(240, 300)),
    Category(4, Range(120, 240)),
    Category(5, Range(100, 130)),
    # 6 super bulky and 7 jumbo: sources tell no least length, so a square must be weighed.
)


class Estimate(NamedTuple):
    """``grams`` and ``metres``, from what is knitted in to that with tails and a margin."""

    grams: Range
    metres: Range | None  # None where nobody has told the metres to 100 g
    rests_on: RestsOn


def from_weighed(
    weights: Sequence[float],
    square: int,
    blanket: int,
    *,
    scale: float = 1.0,
    metres_per_100_grams: float | None = None,
    evidence: Evidence = Evidence.SQUARES,
) -> Estimate:
    """An estimate from finished squares on a scale that shows steps of ``scale`` grams.

    ``weights`` in grams, at least one, of squares of ``square`` stitches worked (or of what else
    is ``evidence``); ``blanket``: the stitches worked in the whole blanket.
    """
    mean = fmean(weights)
    doubt = scale / 2 + (stdev(weights) if len(weights) > 1 else 0)
    grams = spared(Range(max(mean - doubt, 0), mean + doubt).times(blanket / square))
    metres = None if metres_per_100_grams is None else grams.times(metres_per_100_grams / 100)
    return Estimate(grams, metres, RestsOn(evidence, len(weights)))


def from_category(category: Category, gauge: float, blanket: int) -> Estimate:
    """An estimate without a scale; ``gauge`` in stitches to 10 cm, ``blanket`` as above."""
    return Estimate(
        spared(per_stitch(category, gauge).times(blanket)),
        spared(_metres(gauge).times(blanket)),
        RestsOn(Evidence.CATEGORY, category=category.number),
    )


def per_stitch(category: Category, gauge: float) -> Range:
    """The grams in one stitch that are usual, nothing added."""
    metres = _metres(gauge)
    return Range(metres.low / category.metres.high * 100, metres.high / category.metres.low * 100)


def spared(used: Range) -> Range:
    """What is knitted in, at least, and that with tails and a margin, at most."""
    return Range(used.low, used.high * (1 + TAILS_SHARE) * (1 + CATEGORY_MARGIN))


def _metres(gauge: float) -> Range:
    return WIDTHS.times(0.1 / gauge)
