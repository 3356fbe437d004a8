"""The foundation of one square: what is cast on, what is picked up, in the order of work."""

from collections.abc import Iterator, Sequence
from enum import StrEnum
from typing import NamedTuple

from drives.craft.places import Place

from .layout import Layout, Mitre


class Do(StrEnum):
    CAST_ON = "cast-on"
    PICK_UP = "pick-up"
    CORNER = "corner"  # the one stitch picked up in the corner itself (centred mitre)


class Edge(StrEnum):
    """The two edges that a finished square offers. There is no member for its left or bottom."""

    RIGHT = "right"
    TOP = "top"


class How(StrEnum):
    """Where a cast-on falls in the path, which decides how it is done."""

    FIRST = "first"
    LAST = "last"
    BETWEEN = "between"


class Step(NamedTuple):
    """One run of the foundation.

    ``ridges`` are the first and last ridge of the neighbour's edge, counted from its bottom
    (right edge) or from its left (top edge); the extra stitch of a corner trade, and the corner
    stitch that a run takes along, are in ``stitches`` but not in ``ridges``.
    """

    do: Do
    stitches: int
    onto: Place | None = None
    edge: Edge | None = None
    ridges: tuple[int, int] | None = None
    how: How | None = None


class Marker(NamedTuple):
    """The middle of the foundation: after (paired) or on (centred) this stitch of this step."""

    step: int  # index into the foundation
    stitch: int  # counted within the step, from 1


def foundation(
    layout: Layout, left: Sequence[Place | None], below: Sequence[Place | None], at: Place
) -> tuple[Step, ...]:
    """The right-handed foundation of the square at ``at``.

    ``left`` names the neighbour along each unit of the left side, from the bottom; ``below``
    along each unit of the bottom, from the left; None where nothing is joined. Both have one
    entry for each unit of the square's width. Counts: TRADE.md, section 3.
    """
    bottom = _runs(below, Edge.TOP, at.column, layout.stitches)
    bottom.reverse()  # the right-handed path runs leftwards along the bottom, then up the left
    side = _runs(left, Edge.RIGHT, at.row, layout.stitches)
    joined = [run.do is Do.PICK_UP for run in (bottom[-1], side[0])]
    middle: list[Step] = []
    if layout.mitre is Mitre.CENTRED:
        if all(joined):
            middle = [Step(Do.CORNER, 1)]
        elif joined[0]:
            bottom[-1] = _more(bottom[-1], 1)
        else:
            side[0] = _more(side[0], 1)
    elif layout.corner_trade and any(joined) and not all(joined):
        gain = 1 if joined[0] else -1
        bottom[-1], side[0] = _more(bottom[-1], gain), _more(side[0], -gain)
    if not any(joined):
        cast_on = _more(bottom.pop(), side.pop(0).stitches)
        middle = [cast_on]
    return _with_how([*bottom, *middle, *side])


def mirrored(steps: Sequence[Step]) -> tuple[Step, ...]:
    """The same foundation for the other hand: the path walked from its other end."""
    return _with_how(list(reversed(steps)))


def total(steps: Sequence[Step]) -> int:
    """Stitches on the needle when the foundation is complete."""
    return sum(step.stitches for step in steps)


def marker_at(steps: Sequence[Step], mitre: Mitre) -> Marker:
    """Where the marker goes, counted in the order of work."""
    rest = (total(steps) + (mitre is Mitre.CENTRED)) // 2
    for index, step in enumerate(steps):
        if rest <= step.stitches:
            return Marker(index, rest)
        rest -= step.stitches
    raise AssertionError(steps)  # the middle of a foundation lies within it


def _runs(units: Sequence[Place | None], edge: Edge, start: int, stitches: int) -> list[Step]:
    """Neighbouring units of the same kind and the same neighbour, as one step each.

    ``start`` is the column (top edges) or the row (right edges) of the first unit.
    """
    runs: list[Step] = []
    for position, onto in enumerate(units, start):
        last = runs[-1] if runs else None
        if onto is None:
            if last and last.do is Do.CAST_ON:
                runs[-1] = _more(last, stitches)
            else:
                runs.append(Step(Do.CAST_ON, stitches))
            continue
        offset = position - (onto.column if edge is Edge.TOP else onto.row)
        end = (offset + 1) * stitches
        if last and last.onto == onto and last.ridges:
            runs[-1] = last._replace(
                stitches=last.stitches + stitches, ridges=(last.ridges[0], end)
            )
        else:
            runs.append(Step(Do.PICK_UP, stitches, onto, edge, (end - stitches + 1, end)))
    return runs


def _more(step: Step, stitches: int) -> Step:
    return step._replace(stitches=step.stitches + stitches)


def _with_how(steps: list[Step]) -> tuple[Step, ...]:
    return tuple(_labelled(steps))


def _labelled(steps: list[Step]) -> Iterator[Step]:
    for index, step in enumerate(steps):
        if step.do is not Do.CAST_ON:
            yield step
        elif index == 0:
            yield step._replace(how=How.FIRST)
        elif index == len(steps) - 1:
            yield step._replace(how=How.LAST)
        else:
            yield step._replace(how=How.BETWEEN)
