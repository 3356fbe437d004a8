"""How long a blanket takes, from how long a square takes."""

from collections.abc import Sequence
from math import sqrt

from drives.craft.layout.layout import Layout, Mitre
from drives.craft.layout.plan import Plan
from drives.craft.layout.rows import worked
from drives.craft.layout.sizing import stitches_worked
from drives.craft.numbers.ranges import Range

# One maker of 273 squares counted 8.6 hours for the ends, beside 45 minutes a square.
# abeeinthebonnet.com/blog/answering-questions-mitered-square-blanket
ENDS_MINUTES = 8.6 * 60 / 273
# Another maker came down from 45 to 25 minutes; a pace that somebody states may be either.
# emptyknitstersneverendingknitting.blogspot.com/2016/02
STATED_SPREAD = sqrt(45 / 25)
USUAL_PACE = Range(15, 30)  # stitches of garter stitch a minute (common practice)


def usual_minutes(stitches: int, mitre: Mitre) -> Range:
    """The minutes for one square whose side is ``stitches``, where nobody has told any."""
    work = worked(stitches, mitre)
    return Range(work / USUAL_PACE.high, work / USUAL_PACE.low)


def stated(minutes: float) -> Range:
    """The minutes for one square that somebody states, as what they may turn out to be."""
    return Range(minutes / STATED_SPREAD, minutes * STATED_SPREAD)


def measured(minutes: Sequence[float]) -> Range:
    """The minutes that each of some squares took; with a single one, no more than a statement."""
    if len(minutes) == 1:
        return stated(minutes[0])
    return Range(min(minutes), max(minutes))


def square_minutes(layout: Layout, by_clock: Sequence[float] = ()) -> Range:
    """The minutes for one square of one unit, from what some took, or else from a usual pace."""
    if by_clock:
        return measured(by_clock)
    return usual_minutes(layout.stitches, layout.mitre)


def hours(plan: Plan, minutes: Range) -> Range:
    """The hours for all squares of ``plan`` and their ends; ``minutes`` for one of one unit."""
    units = stitches_worked(plan) / worked(plan.layout.stitches, plan.layout.mitre)
    ends = len(plan.places) * ENDS_MINUTES / 60
    knitting = minutes.times(units / 60)
    return Range(knitting.low + ends, knitting.high + ends)
