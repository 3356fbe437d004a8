"""The standing order: networkx, hook lengths, binomials. TRADE.md, section 4."""

from functools import cache
from math import comb, factorial, prod

import networkx
import pytest
from hypothesis import given

from drives.craft.layout import states
from drives.craft.layout.foundation import Step
from drives.craft.layout.layout import Large, Layout
from drives.craft.layout.plan import Plan, SquareKind, plan
from drives.craft.layout.states import State
from drives.craft.places import Place
from tests.craft.brief import places
from tests.craft.layouts import layouts, thoroughly

Finished = frozenset[Place]
GRIDS = [(1, 1), (2, 2), (3, 3), (4, 4), (4, 3), (1, 6), (5, 2), (2, 5)]


def graph(planned: Plan) -> "networkx.DiGraph[Place]":
    """An arrow from each square to those that stand on it, from what the foundations name."""
    found: networkx.DiGraph[Place] = networkx.DiGraph()
    found.add_nodes_from(planned.places)
    for place in planned.places:
        steps: tuple[Step, ...] = planned.foundation(place)
        found.add_edges_from((step.onto, place) for step in steps if step.onto)
    return found


def most_independent(planned: Plan) -> int:
    """The most squares of which none waits for another: Dilworth, by bipartite matching."""
    waits = networkx.transitive_closure_dag(graph(planned))
    pairs: networkx.Graph[tuple[str, Place]] = networkx.Graph()
    below = [("below", place) for place in planned.places]
    pairs.add_nodes_from(below)
    pairs.add_edges_from((("below", one), ("above", other)) for one, other in waits.edges)
    matching = networkx.bipartite.hopcroft_karp_matching(pairs, below)
    return len(planned.places) - len(matching) // 2


def ready(planned: Plan, finished: Finished) -> list[Place]:
    return [
        place
        for place in planned.places
        if states.state(planned, place, finished=finished, taken=frozenset()) is State.READY
    ]


def reachable(planned: Plan) -> set[Finished]:
    """Every set of finished squares that work can reach, one square after the other."""
    found: set[Finished] = set()
    ahead = [Finished()]
    while ahead:
        finished = ahead.pop()
        if finished not in found:
            found.add(finished)
            ahead += [finished | {place} for place in ready(planned, finished)]
    return found


def complete_orders(planned: Plan) -> int:
    @cache
    def onwards(finished: Finished) -> int:
        able = ready(planned, finished)
        return sum(onwards(finished | {place}) for place in able) if able else 1

    return onwards(Finished())


def hook_length_formula(columns: int, rows: int) -> int:
    # Frame, Robinson and Thrall 1954
    hooks = prod((columns - c) + (rows - r) - 1 for c in range(columns) for r in range(rows))
    return factorial(columns * rows) // hooks


@thoroughly
@given(layouts())
def test_nothing_stands_on_itself_in_a_circle(layout: Layout) -> None:
    # Guibas and Yao, On translating a set of rectangles, STOC 1980
    assert networkx.is_directed_acyclic_graph(graph(plan(layout)))


@thoroughly
@given(layouts())
def test_rounds_are_topological_generations(layout: Layout) -> None:
    planned = plan(layout)
    for number, generation in enumerate(networkx.topological_generations(graph(planned)), 1):
        assert {planned.round[place] for place in generation} == {number}
    assert planned.rounds == number


@thoroughly
@given(layouts())
def test_chains_are_longest_paths(layout: Layout) -> None:
    planned = plan(layout)
    order = graph(planned)
    assert planned.rounds == networkx.dag_longest_path_length(order) + 1
    for place in planned.places[:8]:
        onwards = order.subgraph({place, *networkx.descendants(order, place)})
        assert planned.chain[place] == networkx.dag_longest_path_length(onwards) + 1


@thoroughly
@given(layouts())
def test_what_a_square_carries_stands_on_it(layout: Layout) -> None:
    planned = plan(layout)
    order = graph(planned)
    for place in planned.places:
        carried = planned.carries[place]
        assert set(carried) == set(order.successors(place))
        assert list(carried) == sorted(carried, key=planned.places.index)


@pytest.mark.parametrize(("columns", "rows"), [*GRIDS, (12, 16), (30, 7)])
def test_the_longest_chain_of_a_grid(columns: int, rows: int) -> None:
    assert plan(Layout(columns, rows, 20)).rounds == columns + rows - 1


@pytest.mark.parametrize(("columns", "rows"), [*GRIDS, (8, 6)])
def test_the_most_squares_ready_at_once_on_a_grid(columns: int, rows: int) -> None:
    planned = plan(Layout(columns, rows, 20))
    assert planned.widest_round == min(columns, rows)
    assert most_independent(planned) == min(columns, rows)


@pytest.mark.parametrize(("columns", "rows"), GRIDS)
def test_no_order_of_work_makes_more_squares_ready(columns: int, rows: int) -> None:
    planned = plan(Layout(columns, rows, 20))
    widest = max(len(ready(planned, finished)) for finished in reachable(planned))
    assert widest == min(columns, rows)


@pytest.mark.parametrize(
    ("columns", "rows", "orders"),
    [
        *[(1, 1, 1), (2, 2, 2), (3, 3, 42), (4, 4, 24_024), (5, 5, 701_149_020)],  # OEIS A039622
        *[(4, 3, 462), (3, 4, 462), (1, 6, 1)],
    ],
)
def test_the_number_of_complete_orders(columns: int, rows: int, orders: int) -> None:
    assert complete_orders(plan(Layout(columns, rows, 20))) == orders
    assert hook_length_formula(columns, rows) == orders


@pytest.mark.parametrize(("columns", "rows"), GRIDS)
def test_the_number_of_reachable_states(columns: int, rows: int) -> None:
    planned = plan(Layout(columns, rows, 20))
    assert len(reachable(planned)) == comb(columns + rows, columns)


def test_the_recommended_order_of_a_grid() -> None:
    # diagonal strips: right-hand neighbour, top one, then the corner. TRADE.md, section 4
    planned = plan(Layout(3, 3, 20))
    assert list(planned.places) == places("A1", "B1", "A2", "C1", "B2", "A3", "C2", "B3", "C3")
    assert [planned.round[place] for place in planned.places] == [1, 2, 2, 3, 3, 3, 4, 4, 5]


def test_the_kinds_of_a_grid() -> None:
    planned = plan(Layout(2, 2, 20))
    kinds = {str(place): planned.kind(place) for place in planned.places}
    assert kinds == {
        "A1": SquareKind.BASE,
        "B1": SquareKind.SIDE_JOIN,
        "A2": SquareKind.TOP_JOIN,
        "B2": SquareKind.CORNER_JOIN,
    }


def test_a_large_square_waits_for_all_along_its_sides() -> None:
    planned = plan(Layout(3, 3, 20, large=frozenset({Large(Place(2, 2), 2)})))
    assert list(planned.stands_on[Place(2, 2)]) == places("A2", "A3", "B1", "C1")
    assert planned.round[Place(2, 2)] == 4  # A3 and C1 are of round 3


def test_a_large_square_can_wait_for_squares_that_begin_above_it() -> None:
    # B1 (3 × 3) stands on A2, which begins higher up, and that one on A1
    layout = Layout(5, 3, 20, large=frozenset({Large(Place(2, 1), 3)}))
    planned = plan(layout)
    assert [str(place) for place in planned.places[:4]] == ["A1", "A2", "A3", "B1"]


def test_a_blanket_as_large_as_can_be() -> None:
    planned = plan(Layout(150, 150, 200))
    assert (planned.rounds, planned.widest_round, len(planned.places)) == (299, 150, 22_500)
    assert len(planned.pieces()) == 1
