"""Situations for the forecast: random ones for hypothesis, and cut blankets by hand."""

from collections.abc import Set

from hypothesis import settings
from hypothesis import strategies as st

from drives.craft.forecast.pace import Days
from drives.craft.forecast.situation import (
    InHand,
    Knitter,
    Meetings,
    Situation,
    Together,
    Travelling,
)
from drives.craft.layout.layout import Layout, Seam
from drives.craft.layout.plan import Plan, plan
from drives.craft.places import Place

from . import reference
from .layouts import layouts

# A run costs more than a look at a plan; derandomized as in layouts.py.
often = settings(max_examples=40, derandomize=True, deadline=None)


def cut(columns: int, rows: int, *lines: int) -> Plan:
    """A plain grid with seams to the right of the columns ``lines``."""
    seams = frozenset(
        Seam(Place(line, row), Place(line + 1, row)) for line in lines for row in range(1, rows + 1)
    )
    return plan(Layout(columns, rows, 20, seams=seams))


def steady(days: float, *away: tuple[float, float]) -> Knitter:
    return Knitter(Days(days), away)


def crowded(layout: Layout, begun: Set[Place], in_work: Set[Place]) -> int:
    """The most people at work on one piece of what is begun."""
    return max((len(piece & in_work) for piece in reference.pieces(layout, set(begun))), default=0)


@st.composite
def knitters(draw: st.DrawFn) -> Knitter:
    moments = sorted(draw(st.sets(st.integers(-20, 80), max_size=6)))
    stretches = zip(moments[::2], moments[1::2], strict=False)
    pace = Days(draw(st.integers(1, 9)), draw(st.sampled_from([0.0, 0.3])), 0.2)
    return Knitter(pace, tuple((float(leaves), float(returns)) for leaves, returns in stretches))


@st.composite
def modes(draw: st.DrawFn) -> Together | Travelling:
    if draw(st.booleans()):
        return Together(draw(st.sampled_from([None, 1, 2, 3])))
    meetings = sorted(draw(st.sets(st.integers(1, 60), max_size=4)))
    return Travelling(
        Days(draw(st.integers(1, 9)), 0.3),
        Meetings(tuple(map(float, meetings))) if meetings else None,
        at_once=draw(st.sampled_from([1, 1, 2])),
        turn=draw(st.sampled_from([None, 1, 2])),
    )


@st.composite
def situations(draw: st.DrawFn, most: int = 5) -> Situation:
    """Blankets part of which is finished and part in hand, with one to four knitters."""
    planned = plan(draw(layouts(most)))
    people = draw(st.lists(knitters(), min_size=1, max_size=4))
    some = st.integers(0, len(people) - 1)
    mode = draw(modes())
    done = draw(st.integers(0, len(planned.places)))
    finished = frozenset(planned.places[:done])
    in_hand: list[InHand] = []
    for place in planned.places[done:]:
        taken = {square.place for square in in_hand} | {place}
        if (
            len(in_hand) < 4
            and finished.issuperset(planned.stands_on[place])
            and crowded(planned.layout, finished | taken, taken) <= (mode.at_once or 4)
            and draw(st.booleans())
        ):
            in_hand.append(InHand(place, draw(some), draw(st.integers(-9, 4))))
    holders = {place: draw(some) for place in planned.places[: min(done, 3)]}
    return Situation(planned, people, mode, finished, in_hand, holders)
