"""Where the steps of a foundation lie along the two sides of a square."""

from typing import NamedTuple

from drives.craft.knitter import Hand
from drives.craft.layout.foundation import Do, Edge, Step
from drives.craft.layout.plan import Plan
from drives.craft.places import Place


class StepRun(NamedTuple):
    """One step, and the units along the path where it begins and ends.

    The path is measured from the bottom right corner (0) along the bottom to the corner (the
    square's size) and up to the top left (twice the size), for either hand; ``number`` is the
    step's in the order of work. The stitch in the corner itself begins where it ends.
    """

    number: int
    step: Step
    start: int
    end: int


def step_runs(plan: Plan, place: Place, hand: Hand) -> tuple[StepRun, ...]:
    """The foundation of the square at ``place``, from the bottom right to the top left."""
    size = plan.size[place]
    steps = plan.foundation(place)
    spans = [_span(step, place, size, plan.layout.stitches) for step in steps]
    found: list[StepRun] = []
    for index, (step, span) in enumerate(zip(steps, spans, strict=True)):
        if span is None:  # a cast-on reaches from what is picked up before to what comes after
            before = found[-1].end if found else 0
            after = spans[index + 1] if index + 1 < len(spans) else None
            span = before, after[0] if after else 2 * size
        number = len(steps) - index if hand is Hand.LEFT else index + 1
        found.append(StepRun(number, step, *span))
    return tuple(found)


def _span(step: Step, place: Place, size: int, stitches: int) -> tuple[int, int] | None:
    if step.do is Do.CORNER:
        return size, size
    if step.onto is None or step.ridges is None:
        return None
    first, last = (step.ridges[0] - 1) // stitches, step.ridges[1] // stitches
    if step.edge is Edge.TOP:
        offset = step.onto.column - place.column
        return size - offset - last, size - offset - first
    offset = step.onto.row - place.row
    return size + offset + first, size + offset + last
