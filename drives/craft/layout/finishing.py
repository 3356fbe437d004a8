"""What is to be done when the last square is off the needles, counted."""

from .plan import Plan

TAILS = 2  # of a square: where its yarn begins and where it is fastened off (common practice)


def ends(plan: Plan) -> int:
    """The ends to weave in, at least: knots, stripes and sewn seams make more."""
    return TAILS * len(plan.places)


def markers(plan: Plan) -> int:
    """The stitch markers that can have been in use, at most: one for each square's middle."""
    return len(plan.places)
