"""Cutting a blanket into panels: against every other way to do it on small blankets."""

from collections.abc import Set
from itertools import combinations, pairwise
from math import inf

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.forecast.forecast import Never, forecast
from drives.craft.forecast.pace import Days
from drives.craft.forecast.panels import one_more_panel, proposals
from drives.craft.forecast.situation import InHand, Knitter, Situation, Together, Travelling
from drives.craft.layout.layout import Large, Layout, Seam
from drives.craft.layout.plan import plan
from drives.craft.layout.seams import Along, Cutting
from drives.craft.places import Place
from tests.craft import reference
from tests.craft.brief import places
from tests.craft.layouts import layouts
from tests.craft.situations import cut, often, steady

GAUGE = 20.0  # a square of 20 stitches is 10 cm wide
POST = Travelling(Days(7, 0.3))
CIRCLE = [Knitter(Days(days, 0.4, 0.1)) for days in (3, 4, 4, 6)]
NONE = frozenset[Place]()
A1, B1, C1, D1, B2 = places("A1", "B1", "C1", "D1", "B2")


def across(line: int, along: Along, layout: Layout) -> list[Seam]:
    """Every edge on a line, whatever lies beside it."""
    if along is Along.COLUMNS:
        return [Seam(Place(line, n), Place(line + 1, n)) for n in range(1, layout.rows + 1)]
    return [Seam(Place(n, line), Place(n, line + 1)) for n in range(1, layout.columns + 1)]


def lines_by_hand(layout: Layout, along: Along, begun: Set[Place]) -> dict[int, bool]:
    """The lines that can be cut, and whether they are cut already."""
    owners = reference.owners(layout)
    found = {}
    length = layout.columns if along is Along.COLUMNS else layout.rows
    for line in range(1, length):
        joined = [
            (owners[seam.first], owners[seam.second])
            for seam in across(line, along, layout)
            if seam.first in owners and seam.second in owners and seam not in layout.seams
        ]
        if not any(one == other or other.at in begun for one, other in joined):
            found[line] = not joined
    return found


def evenest_by_hand(
    layout: Layout, along: Along, finished: Set[Place], begun: Set[Place], panels: int
) -> tuple[int, ...] | None:
    """Every choice of lines is tried."""
    possible = lines_by_hand(layout, along, begun)
    fixed = {line for line, already in possible.items() if already}
    length = layout.columns if along is Along.COLUMNS else layout.rows
    left = [0] * (length + 1)
    for unit, square in reference.owners(layout).items():
        left[unit.column if along is Along.COLUMNS else unit.row] += square.at not in finished
    ways = []
    for count in range(len(possible) + 1):
        for lines in combinations(possible, count):
            strips = list(pairwise([0, *lines, length]))
            units = [sum(left[start + 1 : end + 1]) for start, end in strips]
            nothing = [strip for strip, each in zip(strips, units, strict=True) if not each]
            if (
                fixed <= set(lines)
                and sum(map(bool, units)) == panels
                and all(set(strip) <= {0, length, *fixed} for strip in nothing)
            ):
                ways.append((sum(each**2 for each in units), lines))
    return min(ways)[1] if ways else None


@st.composite
def begun_blankets(draw: st.DrawFn) -> tuple[Layout, frozenset[Place], frozenset[Place]]:
    """A layout, what is finished of it, and what is begun."""
    layout = draw(layouts(6))
    order = plan(layout).places
    done = draw(st.integers(0, len(order)))
    finished = frozenset(order[:done])
    able = [place for place in order[done:] if finished.issuperset(plan(layout).stands_on[place])]
    return layout, finished, finished | frozenset(able[: draw(st.integers(0, 2))])


@often
@given(begun_blankets(), st.sampled_from(Along), st.integers(1, 5))
def test_the_evenest_of_all_ways_to_cut(
    blanket: tuple[Layout, frozenset[Place], frozenset[Place]], along: Along, panels: int
) -> None:
    layout, finished, begun = blanket
    cutting = Cutting(plan(layout), along, finished, begun)
    assert cutting.lines(panels) == evenest_by_hand(layout, along, finished, begun, panels)


@often
@given(begun_blankets(), st.sampled_from(Along), st.integers(1, 5))
def test_a_cut_disturbs_nothing_begun_and_no_large_square(
    blanket: tuple[Layout, frozenset[Place], frozenset[Place]], along: Along, panels: int
) -> None:
    layout, finished, begun = blanket
    before = plan(layout)
    seams = Cutting(before, along, finished, begun).seams(panels)
    if seams is None:
        return
    assert not seams & layout.seams
    after = plan(Layout(**{**vars(layout), "seams": layout.seams | seams}))  # raises nothing
    assert set(after.places) == set(before.places)
    for place in begun:
        assert after.foundation(place) == before.foundation(place)
        assert after.size[place] == before.size[place]


@pytest.mark.parametrize(
    ("along", "panels", "lines"),
    [
        (Along.COLUMNS, 1, ()),
        (Along.COLUMNS, 2, (5,)),
        (Along.COLUMNS, 3, (3, 6)),  # 3, 3 and 4 columns: of equal ways the leftmost
        (Along.COLUMNS, 4, (2, 4, 7)),
        (Along.ROWS, 4, (3, 6, 9)),
        (Along.ROWS, 13, None),
    ],
)
def test_a_plain_grid_is_cut_as_one_would(
    along: Along, panels: int, lines: tuple[int, ...] | None
) -> None:
    assert Cutting(cut(10, 12), along, NONE, NONE).lines(panels) == lines


def test_no_line_goes_through_a_large_square_or_cuts_off_what_is_begun() -> None:
    large = plan(Layout(4, 2, 20, large=frozenset({Large(B1, 2)})))
    assert Cutting(large, Along.COLUMNS, NONE, NONE).lines(2) == (1,)
    row = plan(Layout(4, 1, 20))
    assert set(Cutting(row, Along.COLUMNS, frozenset({A1}), frozenset({A1, B1})).new_seams) == {
        2,
        3,
    }


def test_even_means_what_is_left_to_knit() -> None:
    finished = frozenset({A1, B1})
    assert Cutting(plan(Layout(6, 1, 20)), Along.COLUMNS, finished, finished).lines(2) == (4,)


def test_cuts_that_are_there_count() -> None:
    halves = Cutting(cut(6, 2, 3), Along.COLUMNS, NONE, NONE)
    assert halves.standing == 2
    assert halves.lines(2) == (3,)
    assert halves.seams(2) == frozenset()
    assert halves.lines(3) == (1, 3)
    assert Cutting(cut(6, 2, 3), Along.ROWS, NONE, NONE).standing == 1


def test_what_is_proposed() -> None:
    situation = Situation(plan(Layout(6, 4, 20)), CIRCLE, POST)
    found = proposals(situation, GAUGE, times=50, seed=1)
    told = [(each.along, each.panels, round(each.sewing)) for each in found]
    assert told == [
        (None, 1, 0),
        (Along.COLUMNS, 2, 40),
        (Along.COLUMNS, 3, 80),
        (Along.COLUMNS, 4, 120),
        (Along.COLUMNS, 6, 200),
        (Along.ROWS, 2, 60),
        (Along.ROWS, 3, 120),
        (Along.ROWS, 4, 180),
    ]
    stands, halves = found[0], found[1]
    assert stands.forecast.days == forecast(situation, 50, 1).days
    assert stands.seams == frozenset()
    assert halves.seams == frozenset(across(3, Along.COLUMNS, situation.plan.layout))
    assert halves.layout.seams == halves.seams
    assert halves.forecast.within(0.5) < stands.forecast.within(0.5)
    assert {each.squares for each in found} == {6}
    again, other = (proposals(situation, GAUGE, times=50, seed=seed) for seed in (1, 2))
    days = [each.forecast.days for each in found]
    assert days == [each.forecast.days for each in again]
    assert days != [each.forecast.days for each in other]


def test_sewing_counts_old_seams_and_nothing_beside_a_missing_place() -> None:
    layout = Layout(4, 2, 20, missing=frozenset({B2}), seams=frozenset({Seam(C1, D1)}))
    stands, halves, *_ = proposals(Situation(plan(layout), CIRCLE, POST), GAUGE, 3, 1, [2])
    assert stands.sewing == 10
    assert (halves.along, halves.panels) == (Along.COLUMNS, 2)
    assert halves.seams == {Seam(B1, C1)}
    assert halves.sewing == 20


def test_the_days_are_those_of_knitting() -> None:
    situation = Situation(plan(Layout(2, 2, 20)), [steady(3, (1, 9))], POST)
    (stands,) = proposals(situation, GAUGE, 2, 1, counts=[])
    assert stands.squares == 4
    assert stands.days == pytest.approx(12)
    two = Situation(plan(Layout(2, 2, 20)), [steady(3)] * 2, POST, frozenset({A1}))
    assert proposals(two, GAUGE, 2, 1, counts=[])[0].days == pytest.approx(4.5)


@pytest.mark.parametrize("mode", [POST, Together(2), Together()])
@pytest.mark.parametrize("finished", [0, 9])
def test_the_unbeaten_are_those_on_the_front(mode: Together | Travelling, finished: int) -> None:
    planned = plan(Layout(6, 6, 20))
    done = frozenset(planned.places[:finished])
    found = proposals(Situation(planned, CIRCLE, mode, done), GAUGE, 60, seed=1)
    assert len(found) > 3
    points = [(each.late, each.sewing) for each in found]
    for each, (late, sewing) in zip(found, points, strict=True):
        beaten = any(
            (other_late < late and other_sewing <= sewing)
            or (other_late <= late and other_sewing < sewing)
            for other_late, other_sewing in points
        )
        assert each.unbeaten is not beaten
    assert found[0].unbeaten  # nothing has less to sew


def test_one_more_panel() -> None:
    whole = Situation(plan(Layout(6, 4, 20)), CIRCLE, POST)
    found = one_more_panel(whole, GAUGE, 50, seed=1)
    assert found
    assert found.panels == 2
    assert found.late == min(each.late for each in proposals(whole, GAUGE, 50, 1, [2])[1:])
    halves = Situation(cut(6, 4, 3), CIRCLE, POST)
    found = one_more_panel(halves, GAUGE, 50, seed=1)
    assert found
    assert (found.along, found.panels) == (Along.COLUMNS, 3)
    assert one_more_panel(Situation(plan(Layout(1, 1, 20)), CIRCLE, POST), GAUGE, 9, 1) is None


def test_a_blanket_in_hand_is_cut_around_what_is_begun() -> None:
    planned = plan(Layout(3, 1, 20))
    situation = Situation(planned, CIRCLE, POST, frozenset({A1}), [InHand(B1, 0, -1)])
    _, halves = proposals(situation, GAUGE, 3, 1, [2])
    assert halves.seams == {Seam(B1, C1)}


def test_without_knitters_the_proposals_say_never() -> None:
    found = proposals(Situation(plan(Layout(4, 4, 20)), [], POST), GAUGE, 2, 1)
    assert {each.forecast.never for each in found} == {Never.NO_KNITTERS}
    assert {each.days for each in found} == {inf}
    assert [each.unbeaten for each in found] == [True] + [False] * (len(found) - 1)
