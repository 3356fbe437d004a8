"""What must hold for every layout that can be drawn, and the second working of the craft."""

from collections import Counter
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.knitter import Hand
from drives.craft.layout.foundation import Do, Edge, Step, marker_at, total
from drives.craft.layout.layout import Layout, Mitre, problems
from drives.craft.layout.plan import Plan, SquareKind, plan
from drives.craft.places import Place
from tests.craft import reference
from tests.craft.layouts import drawn_by, layouts, thoroughly

Unit = tuple[Place, Edge, int]  # a square, its edge, a unit of that edge from 1


def units_picked_up(layout: Layout, step: Step) -> list[Unit]:
    """The units of the neighbour's edge that one step covers."""
    assert step.onto
    assert step.edge
    assert step.ridges
    first, last = step.ridges
    n = layout.stitches
    assert (first - 1) % n == 0
    assert last % n == 0
    return [(step.onto, step.edge, unit) for unit in range((first - 1) // n + 1, last // n + 1)]


def all_steps(planned: Plan) -> list[Step]:
    return [step for place in planned.places for step in planned.foundation(place)]


@thoroughly
@given(layouts())
def test_the_second_working_agrees_on_everything(layout: Layout) -> None:
    agree(layout)


@pytest.mark.parametrize("seed", range(6))
def test_the_second_working_agrees_on_large_blankets_of_many_sizes(seed: int) -> None:
    layout = drawn_by(Random(seed), 30)
    assert len(layout.large) > 20
    agree(layout)


def agree(layout: Layout) -> None:
    planned = plan(layout)
    squares = reference.squares(layout)
    assert planned.size == {square.at: square.size for square in squares}
    supports = {place: tuple(sorted(found)) for place, found in reference.stands_on(layout).items()}
    assert planned.stands_on == supports
    assert planned.round == reference.rounds(layout)
    for square in squares:
        for hand in Hand:
            assert planned.foundation(square.at, hand) == reference.foundation(layout, square, hand)
    assert set(planned.pieces()) == reference.pieces(layout, set(planned.places))


@thoroughly
@given(layouts())
def test_totals_are_right_and_the_middle_is_in_the_middle(layout: Layout) -> None:
    planned = plan(layout)
    centred = layout.mitre is Mitre.CENTRED
    for place in planned.places:
        for hand in Hand:
            steps = planned.foundation(place, hand)
            side = planned.size[place] * layout.stitches
            assert total(steps) == 2 * side + centred
            assert all(step.stitches > 0 for step in steps)
            middle = marker_at(steps, layout.mitre)
            before = sum(step.stitches for step in steps[: middle.step])
            assert before + middle.stitch == side + centred
            assert 1 <= middle.stitch <= steps[middle.step].stitches


@thoroughly
@given(layouts())
def test_each_unit_of_a_left_or_bottom_edge_is_covered_once(layout: Layout) -> None:
    planned = plan(layout)
    for place in planned.places:
        steps = planned.foundation(place)
        picked_up = [unit for step in steps if step.onto for unit in units_picked_up(layout, step)]
        cast_on = sum(step.stitches for step in steps if step.do is Do.CAST_ON)
        units = 2 * planned.size[place]
        # a trade or the corner stitch moves at most one stitch
        assert abs(cast_on - (units - len(picked_up)) * layout.stitches) <= 1


@thoroughly
@given(layouts())
def test_no_edge_is_picked_up_twice(layout: Layout) -> None:
    steps = [step for step in all_steps(plan(layout)) if step.onto]
    picked_up = Counter(unit for step in steps for unit in units_picked_up(layout, step))
    assert all(times == 1 for times in picked_up.values())


@thoroughly
@given(layouts())
def test_steps_name_right_and_top_edges_and_ridges_within_them(layout: Layout) -> None:
    planned = plan(layout)
    for place in planned.places:
        for step in planned.foundation(place):
            if step.do is not Do.PICK_UP:
                assert (step.onto, step.edge, step.ridges) == (None, None, None)
                continue
            assert step.onto in planned.stands_on[place]
            assert step.edge in {Edge.RIGHT, Edge.TOP}
            assert step.ridges
            first, last = step.ridges
            assert 1 <= first <= last <= planned.size[step.onto] * layout.stitches
            assert step.stitches - (last - first + 1) in {0, 1}


@thoroughly
@given(layouts())
def test_the_edges_that_steps_name_touch_the_square(layout: Layout) -> None:
    planned = plan(layout)
    for place in planned.places:
        for step in planned.foundation(place):
            if step.onto and step.edge is Edge.RIGHT:
                assert step.onto.column + planned.size[step.onto] == place.column
            elif step.onto:
                assert step.onto.row + planned.size[step.onto] == place.row


@thoroughly
@given(layouts())
def test_the_other_hand_has_the_same_steps_in_the_other_order(layout: Layout) -> None:
    planned = plan(layout)
    for place in planned.places:
        right, left = (
            [step._replace(how=None) for step in planned.foundation(place, hand)] for hand in Hand
        )
        assert left == right[::-1]


@thoroughly
@given(layouts())
def test_every_square_stands_on_what_its_steps_name(layout: Layout) -> None:
    planned = plan(layout)
    for place in planned.places:
        named = {step.onto for step in planned.foundation(place) if step.onto}
        assert set(planned.stands_on[place]) == named


@thoroughly
@given(layouts())
def test_the_kind_says_which_sides_have_a_join(layout: Layout) -> None:
    planned = plan(layout)
    kinds = {
        frozenset[Edge](): SquareKind.BASE,
        frozenset({Edge.RIGHT}): SquareKind.SIDE_JOIN,  # joined along its own left side
        frozenset({Edge.TOP}): SquareKind.TOP_JOIN,
        frozenset(Edge): SquareKind.CORNER_JOIN,
    }
    for place in planned.places:
        edges = frozenset(step.edge for step in planned.foundation(place) if step.edge)
        assert planned.kind(place) is kinds[edges]


@thoroughly
@given(layouts())
def test_the_recommended_order_goes_round_by_round_from_the_bottom(layout: Layout) -> None:
    planned = plan(layout)
    order = [(planned.round[place], place.row, place.column) for place in planned.places]
    assert order == sorted(order)
    assert planned.rounds == max(planned.round.values())
    assert planned.widest_round == max(Counter(planned.round.values()).values())


@thoroughly
@given(layouts(), st.randoms(use_true_random=False))
def test_the_pieces_of_some_of_the_squares(layout: Layout, random: Random) -> None:
    planned = plan(layout)
    some = {place for place in planned.places if random.random() < 0.6}
    found = planned.pieces(some)
    assert set(found) == reference.pieces(layout, some)
    first = [min(planned.places.index(place) for place in piece) for piece in found]
    assert first == sorted(first)


@thoroughly
@given(layouts())
def test_random_layouts_have_no_problems(layout: Layout) -> None:
    assert problems(layout) == []
