"""The ways to cut that none other beats: those of all cuts, played one by one."""

from dataclasses import replace

import pytest

from drives.craft.forecast.forecast import runs_of
from drives.craft.forecast.pace import Days
from drives.craft.forecast.run import Run
from drives.craft.forecast.situation import InHand, Knitter, Situation, Together, Travelling
from drives.craft.forecast.tradeoffs import Tradeoff, some, spread, steady, ways
from drives.craft.layout.layout import Large, Layout, Seam
from drives.craft.layout.panels import bent
from drives.craft.layout.plan import plan
from drives.craft.places import Place
from tests.craft.brief import places
from tests.craft.cuts_reference import all_cuts
from tests.craft.situations import steady as knitter

ONE, TWO, ALL = Together(1), Together(2), Together()
KEPT, PASSED = Travelling(Days(7)), Travelling(Days(7), turn=1)
A1, B1, A2, B2 = places("A1", "B1", "A2", "B2")


def hand_overs(run: Run) -> int:
    """Where one works on a piece at a time: fabrics begun that somebody else had."""
    situation = run.prepared.situation
    if isinstance(situation.mode, Together):
        return 0
    stands_on, count = situation.plan.stands_on, 0
    fabrics = [
        (fabric, {situation.holders[place] for place in fabric & situation.holders.keys()})
        for fabric in situation.plan.pieces(among=situation.finished)
    ]
    for square in sorted(run.knitted(), key=lambda each: (each.given, each.ended)):
        under = [each for each in fabrics if each[0].intersection(stands_on[square.place])]
        count += sum(bool(holders - {square.knitter}) for _fabric, holders in under)
        one = frozenset({square.place}).union(*(fabric for fabric, _holders in under))
        fabrics = [each for each in fabrics if each not in under] + [(one, {square.knitter})]
    return count


def front(situation: Situation, most: int) -> set[tuple[float, int, float]]:
    """The trade-offs that none beats, of every cut into at most so many parts."""
    points = set()
    layout = situation.plan.layout
    for seams in {frozenset[Seam](), *all_cuts(layout, situation.begun, most)}:
        cut = replace(steady(situation), plan=plan(replace(layout, seams=layout.seams | seams)))
        (run,) = runs_of(cut, 1, 1)
        points.add((round(run.days, 4), len(seams), hand_overs(run)))
    return {
        point
        for point in points
        if not any(
            other != point and all(a <= b for a, b in zip(other, point, strict=True))
            for other in points
        )
    }


def told(situation: Situation, most: int | None = None) -> set[tuple[float, int, float]]:
    return {way.tradeoff for way in ways(situation, most)}


def circle(layout: Layout, people: int, mode: Together | Travelling) -> Situation:
    return Situation(plan(layout), [knitter(5)] * people, mode)


@pytest.mark.parametrize("mode", [ONE, TWO, ALL, KEPT, PASSED])
@pytest.mark.parametrize("people", [2, 3, 4])
@pytest.mark.parametrize(
    ("columns", "rows"),
    [(1, 1), (1, 4), (2, 1), (2, 2), (3, 2), (2, 4), (3, 3), (4, 3), (4, 4)],
)
def test_on_small_grids_they_are_those_of_all_cuts(
    columns: int, rows: int, people: int, mode: Together | Travelling
) -> None:
    situation = circle(Layout(columns, rows, 20), people, mode)
    assert told(situation) == front(situation, people + 1)


@pytest.mark.parametrize("mode", [ONE, KEPT])
def test_no_more_panels_than_people_and_one_are_any_better(mode: Together | Travelling) -> None:
    for layout, people in ((Layout(3, 3, 20), 2), (Layout(4, 3, 20), 3), (Layout(3, 4, 20), 2)):
        situation = circle(layout, people, mode)
        assert min(told(situation)) == min(front(situation, 12))


@pytest.mark.parametrize("people", [2, 3, 4])
def test_six_by_six(people: int) -> None:
    situation = circle(Layout(6, 6, 20), people, ONE)
    assert told(situation, people) == front(situation, people)


@pytest.mark.parametrize(
    ("columns", "rows", "days", "seams"), [(6, 6, 45, 12), (4, 4, 20, 8), (8, 6, 60, 14)]
)
@pytest.mark.parametrize("mode", [ONE, KEPT])
def test_four_people_cut_crosswise(
    columns: int, rows: int, days: int, seams: int, mode: Together | Travelling
) -> None:
    assert (days, seams, 0) in told(circle(Layout(columns, rows, 20), 4, mode))


@pytest.mark.parametrize("people", [2, 4])
def test_who_passes_pieces_on_keeps_a_panel_that_nobody_waits_for(people: int) -> None:
    """Equally quick, they would all finish at once, and swap their panels after each square."""
    found = ways(circle(Layout(4, 4, 20), people, PASSED))
    assert min(way.tradeoff for way in found)[::2] == (16 * 5 / people, 0)


def begun(layout: Layout, done: str, in_hand: str, mode: Together | Travelling) -> Situation:
    finished = frozenset(places(*done.split()))
    held = [InHand(place, 0, -1) for place in places(*in_hand.split())]
    holders = dict.fromkeys(finished, 0) if isinstance(mode, Travelling) else {}
    return Situation(plan(layout), [knitter(5), knitter(3)], mode, finished, held, holders)


@pytest.mark.parametrize("mode", [ONE, KEPT, PASSED])
@pytest.mark.parametrize(
    ("done", "in_hand"), [("A1", ""), ("A1 B1", "A2"), ("A1 A2 B1", "B2"), ("A1 A2 A3 A4", "B1")]
)
def test_what_is_begun_is_gone_round(done: str, in_hand: str, mode: Together | Travelling) -> None:
    situation = begun(Layout(4, 4, 20), done, in_hand, mode)
    assert told(situation) == front(situation, 4)


def test_a_seam_goes_round_a_corner_of_what_is_begun() -> None:
    """Two columns of two rows are done: what lies below on the right is cut off by one bend."""
    bend = {Seam(Place(2, 1), Place(3, 1)), *(Seam(Place(x, 1), Place(x, 2)) for x in (3, 4))}
    found = ways(begun(Layout(4, 4, 20), "A1 A2 B1 B2", "", ONE))
    assert (30, 3, 0) in {tuple(way.tradeoff) for way in found if way.seams == bend}


@pytest.mark.parametrize(
    "layout",
    [
        Layout(4, 3, 20, large=frozenset({Large(B1, 2)})),
        Layout(4, 3, 20, missing=frozenset({B2, A1})),
        Layout(4, 3, 20, seams=frozenset({Seam(B1, Place(3, 1)), Seam(B2, Place(3, 2))})),
        Layout(3, 4, 20, seams=frozenset(Seam(Place(1, y), Place(2, y)) for y in range(1, 5))),
    ],
)
@pytest.mark.parametrize("mode", [ONE, KEPT])
def test_other_layouts(layout: Layout, mode: Together | Travelling) -> None:
    situation = circle(layout, 3, mode)
    assert told(situation) == front(situation, 4)


def test_a_seam_turns_aside_on_a_large_blanket_too() -> None:
    """Too many cuts to try them all: fourteen columns are begun, five rows high."""
    done = frozenset(Place(x, y) for x in range(1, 15) for y in range(1, 6))
    large = Situation(plan(Layout(20, 24, 20)), [knitter(5)] * 6, ONE, done)
    panels = [plan(replace(large.plan.layout, seams=way.seams)) for way in ways(large)]
    assert any(bent(each) and len(each.pieces()) > 2 for each in panels)


def test_different_paces() -> None:
    situation = replace(
        circle(Layout(4, 3, 20), 3, ONE), knitters=[knitter(2), knitter(4), knitter(7)]
    )
    assert told(situation) == front(situation, 4)


def test_the_simplest_of_equal_ways() -> None:
    halves = [way.seams for way in ways(circle(Layout(4, 2, 20), 2, ONE)) if way.seams]
    assert halves == [frozenset(Seam(Place(2, row), Place(3, row)) for row in (1, 2))]


def test_nobody_knits_and_nothing_is_left() -> None:
    for situation in (
        circle(Layout(3, 3, 20), 0, ONE),
        begun(Layout(2, 1, 20), "A1 B1", "", ONE),
        replace(circle(Layout(3, 3, 20), 1, ONE), knitters=[knitter(5, (0, float("inf")))]),
    ):
        assert [way.seams for way in ways(situation)] == [frozenset()]


def test_many_people_on_a_large_blanket_have_even_panels() -> None:
    situation = circle(Layout(20, 24, 20), 30, ONE)
    found = {way.tradeoff for way in ways(situation)}
    assert Tradeoff(80, 196, 0) in found  # 5 × 6 panels of 4 × 4 squares
    assert Tradeoff(1200, 20, 0) in found


def test_without_luck() -> None:
    mode = Travelling(Days(7, 0.3, 0.2), turn=1)
    lucky = Situation(plan(Layout(2, 2, 20)), [Knitter(Days(5, 0.4, 0.1), ((3, 4),))], mode)
    assert steady(lucky) == replace(
        lucky, knitters=[Knitter(Days(5), ((3, 4),))], mode=Travelling(Days(7), turn=1)
    )


def test_of_many_the_extremes_stay() -> None:
    assert spread(range(10), 20) == list(range(10))
    assert spread(range(10), 4) == [0, 3, 6, 9]
    many = ways(circle(Layout(6, 6, 20), 4, PASSED))[1:]
    few = some(many, 5)
    assert len(few) == 5 < len(many)
    assert min(way.tradeoff for way in few) == min(way.tradeoff for way in many)
    assert min(way.tradeoff.hand_overs for way in few) == min(
        way.tradeoff.hand_overs for way in many
    )
    assert few == [way for way in many if way in few]
    halved = [days for days in (way.tradeoff.days for way in few) if 150 < days < 300]
    assert halved  # nothing between the slowest and the soonest would tell too little
