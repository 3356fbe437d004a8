"""What is short of a colour, in grams and in balls of one dye lot."""

from math import ceil
from typing import NamedTuple

from .yarn import WIDTHS

# Of the length of a seam, sewn in mattress stitch, with its two tails (common practice).
SEWING_LENGTHS = 3


class Short(NamedTuple):
    """``grams`` that are missing, and all that is left to knit, for one new lot (``anew``).

    ``balls`` and ``balls_anew``: whole ones; None where nobody has told what a ball weighs.
    """

    grams: float
    anew: float
    balls: int | None
    balls_anew: int | None


def sewing(stitches: int) -> int:
    """The stitches that take as much yarn as to sew a seam as long as so many ``stitches``.

    At most: in tight knitting the yarn in one stitch is the shortest.
    """
    return ceil(stitches * SEWING_LENGTHS / WIDTHS.low)


def short(needed: float, there: float, ball: int | None) -> Short:
    """Of ``needed`` grams of which so many are ``there``; ``ball``: the grams of one."""
    missing = max(needed - there, 0.0)
    return Short(missing, needed, _balls(missing, ball), _balls(needed, ball))


def _balls(grams: float, ball: int | None) -> int | None:
    return None if ball is None else ceil(grams / ball)
