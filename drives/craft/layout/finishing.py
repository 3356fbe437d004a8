"""What is to be done when the last square is off the needles, counted."""

from .layout import Layout
from .plan import Plan

TAILS = 2  # of a square: where its yarn begins and where it is fastened off (common practice)


def ends(plan: Plan) -> int:
    """The ends to weave in, at least: knots, stripes and sewn seams make more."""
    return TAILS * len(plan.places)


def sewn(layout: Layout) -> int:
    """The units of seams to sew: those with a square on both sides."""
    return sum(
        seam.first not in layout.missing and seam.second not in layout.missing
        for seam in layout.seams
    )


def markers(plan: Plan) -> int:
    """The stitch markers that can have been in use, at most: one for each square's middle."""
    return len(plan.places)
