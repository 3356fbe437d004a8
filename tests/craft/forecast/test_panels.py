"""What is proposed for panels, played with luck."""

from dataclasses import replace
from math import inf

import pytest

from drives.craft.forecast.forecast import Never, forecast
from drives.craft.forecast.pace import Days
from drives.craft.forecast.panels import MOST, one_more_panel, proposals
from drives.craft.forecast.situation import InHand, Knitter, Situation, Together, Travelling
from drives.craft.layout.cuts import Along
from drives.craft.layout.layout import Layout, Seam
from drives.craft.layout.plan import plan
from drives.craft.places import Place
from tests.craft.brief import places
from tests.craft.situations import cut, steady

GAUGE = 20.0  # a square of 20 stitches is 10 cm wide
POST = Travelling(Days(7, 0.3))
CIRCLE = [Knitter(Days(days, 0.4, 0.1)) for days in (3, 4, 4, 6)]
A1, A2, B1, B2, C1, D1 = places("A1", "A2", "B1", "B2", "C1", "D1")


def upright(line: int, rows: int) -> list[Seam]:
    return [Seam(Place(line, row), Place(line + 1, row)) for row in range(1, rows + 1)]


def test_what_is_proposed() -> None:
    situation = Situation(plan(Layout(6, 4, 20)), CIRCLE, POST)
    seen: list[float] = []
    found = proposals(situation, GAUGE, times=50, seed=1, progress=seen.append)
    stands, halves = found[0], found[1]
    assert (stands.along, stands.panels, stands.seams, stands.sewing) == (None, 1, frozenset(), 0)
    assert stands.forecast.days == forecast(situation, 50, 1).days
    assert (halves.along, halves.panels, halves.sewing) == (Along.COLUMNS, 2, 40)
    assert halves.seams == frozenset(upright(3, 4))
    assert halves.layout.seams == halves.seams
    assert halves.forecast.within(0.5) < stands.forecast.within(0.5)
    assert {each.squares for each in found} == {6}
    assert seen == sorted(seen)
    assert seen[-1] == pytest.approx(1)
    again, other = (proposals(situation, GAUGE, times=50, seed=seed) for seed in (1, 2))
    days = [each.forecast.days for each in found]
    assert days == [each.forecast.days for each in again]
    assert days != [each.forecast.days for each in other]


def test_crossed_panels() -> None:
    """Four people, one on a piece: a quarter for each is done as soon as six strips would be."""
    situation = Situation(plan(Layout(6, 6, 20)), [Knitter(Days(5, 0.4, 0.1))] * 4, Together(1))
    crosswise = frozenset({*upright(3, 6), *(Seam(Place(x, 3), Place(x, 4)) for x in range(1, 7))})
    found = proposals(situation, GAUGE, times=50, seed=1)
    (quarters,) = [each for each in found if each.seams == crosswise]
    assert (quarters.along, quarters.bent, quarters.panels) == (None, False, 4)
    assert quarters.sewing == 120
    assert quarters.unbeaten


def test_hand_overs_are_those_while_it_is_knitted() -> None:
    two = [steady(5), steady(5)]
    situation = Situation(plan(Layout(4, 1, 20)), two, Travelling(Days(7), turn=1))
    stands, *_, halves = proposals(situation, GAUGE, 3, 1, 2)
    assert stands.hand_overs == 3  # after each square to the one who would have nothing to do
    assert halves.hand_overs < 3
    together = replace(situation, mode=Together(1))
    assert {each.hand_overs for each in proposals(together, GAUGE, 3, 1, 2)} == {0}


def test_sewing_counts_old_seams_and_nothing_beside_a_missing_place() -> None:
    old = frozenset({Seam(C1, D1), Seam(A2, B2)})
    layout = Layout(4, 2, 20, missing=frozenset({B2}), seams=old)
    stands, *others = proposals(Situation(plan(layout), CIRCLE, POST), GAUGE, 3, 1, 3)
    assert stands.sewing == 10
    assert others
    assert [each.sewing for each in others] == [10 + 10 * len(each.seams) for each in others]


def test_the_days_are_those_of_knitting() -> None:
    situation = Situation(plan(Layout(2, 2, 20)), [steady(3, (1, 9))], POST)
    (stands,) = proposals(situation, GAUGE, 2, 1, most_panels=1)
    assert stands.squares == 4
    assert stands.days == pytest.approx(12)
    two = Situation(plan(Layout(2, 2, 20)), [steady(3)] * 2, POST, frozenset({A1}))
    assert proposals(two, GAUGE, 2, 1, most_panels=1)[0].days == pytest.approx(4.5)


@pytest.mark.parametrize("mode", [POST, Together(1), Together(2), Together()])
@pytest.mark.parametrize("finished", [0, 9])
def test_the_unbeaten_are_those_on_the_front(mode: Together | Travelling, finished: int) -> None:
    planned = plan(Layout(6, 6, 20))
    done = frozenset(planned.places[:finished])
    found = proposals(Situation(planned, CIRCLE, mode, done), GAUGE, 60, seed=1)
    assert 2 < len(found) <= MOST + 1
    points = [(each.late, each.sewing, each.hand_overs) for each in found]
    for each, point in zip(found, points, strict=True):
        beaten = any(
            other != point and all(a <= b for a, b in zip(other, point, strict=True))
            for other in points
        )
        assert each.unbeaten is not beaten
    assert found[0].unbeaten  # nothing has less to sew
    assert [each.sewing for each in found] == sorted(each.sewing for each in found)


def test_one_more_panel_is_the_better_half_of_the_fullest() -> None:
    whole = Situation(plan(Layout(6, 4, 20)), CIRCLE, POST)
    found = one_more_panel(whole, GAUGE, 50, seed=1)
    assert found
    assert (found.along, found.panels, found.sewing) == (Along.COLUMNS, 2, 40)
    uneven = Situation(cut(7, 4, 2), CIRCLE, POST)  # 2 and 5 columns
    found = one_more_panel(uneven, GAUGE, 50, seed=1)
    assert found
    assert (found.along, found.panels) == (Along.COLUMNS, 3)
    assert found.seams == frozenset(upright(4, 4))
    flat = Situation(cut(4, 8, 2), CIRCLE, POST)
    found = one_more_panel(flat, GAUGE, 50, seed=1)
    assert found
    assert (found.along, found.bent, found.panels) == (None, False, 3)
    assert {seam.first.row == seam.second.row for seam in found.seams} == {False}
    for hopeless in (
        Situation(plan(Layout(1, 1, 20)), CIRCLE, POST),
        Situation(plan(Layout(4, 4, 20)), [], POST),
    ):
        assert one_more_panel(hopeless, GAUGE, 9, 1) is None


def test_a_blanket_in_hand_is_cut_around_what_is_begun() -> None:
    planned = plan(Layout(3, 1, 20))
    situation = Situation(planned, CIRCLE, POST, frozenset({A1}), [InHand(B1, 0, -1)])
    _, halves = proposals(situation, GAUGE, 3, 1, 2)
    assert halves.seams == {Seam(B1, C1)}


def test_without_knitters_the_proposals_say_never() -> None:
    found = proposals(Situation(plan(Layout(4, 4, 20)), [], POST), GAUGE, 2, 1)
    assert {each.forecast.never for each in found} == {Never.NO_KNITTERS}
    assert [each.days for each in found] == [inf]
    assert [each.unbeaten for each in found] == [True]
