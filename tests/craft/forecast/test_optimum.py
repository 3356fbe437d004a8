"""The schedule against the outside: longest chains (networkx), optima (OR-tools), Graham's bound.

R. L. Graham, Bounds on Multiprocessing Timing Anomalies, SIAM J. Appl. Math. 17 (1969): list
scheduling on p equal machines takes at most 2 − 1/p times as long as the best schedule.
"""

from random import Random

import networkx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from ortools.sat.python import cp_model

from drives.craft.forecast.forecast import forecast
from drives.craft.forecast.pace import Days
from drives.craft.forecast.situation import Knitter, Situation, Together, Travelling
from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import Plan, plan
from drives.craft.layout.rows import worked
from tests.craft.layouts import layouts
from tests.craft.situations import cut, often

few = settings(max_examples=25, derandomize=True, deadline=None)


def stitches(planned: Plan) -> dict[str, int]:
    """The work of every square in whole numbers: its stitches."""
    layout = planned.layout
    return {
        str(place): worked(layout.stitches * size, layout.mitre)
        for place, size in planned.size.items()
    }


def days(planned: Plan, people: int, mode: Together | Travelling) -> float:
    """The makespan when everybody works one stitch a day."""
    a_square = worked(planned.layout.stitches, planned.layout.mitre)
    situation = Situation(planned, [Knitter(Days(a_square))] * people, mode)
    return forecast(situation, times=1, seed=1).within(1)


def longest_chain(planned: Plan) -> int:
    work = stitches(planned)
    graph: networkx.DiGraph[str] = networkx.DiGraph()
    graph.add_nodes_from(["start", *work])
    for place, supports in planned.stands_on.items():
        for support in [*map(str, supports), "start"]:
            graph.add_edge(support, str(place), weight=work[str(place)])
    return int(networkx.dag_longest_path_length(graph))


def optimum(planned: Plan, people: int) -> int:
    """The shortest makespan of ``people`` who work one stitch a day, whoever knits what."""
    work = stitches(planned)
    model = cp_model.CpModel()
    total = sum(work.values())
    ends = {place: model.new_int_var(0, total, place) for place in work}
    intervals = [
        model.new_interval_var(ends[place] - length, length, ends[place], place)
        for place, length in work.items()
    ]
    for place, length in work.items():
        model.add(ends[place] >= length)
    for above, supports in planned.stands_on.items():
        for support in supports:
            model.add(ends[str(support)] <= ends[str(above)] - work[str(above)])
    model.add_cumulative(intervals, [1] * len(intervals), people)
    makespan = model.new_int_var(0, total, "makespan")
    model.add_max_equality(makespan, list(ends.values()))
    model.minimize(makespan)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    assert solver.solve(model) == cp_model.OPTIMAL
    return int(solver.objective_value)


@often
@given(layouts(8))
def test_with_people_for_every_square_it_is_the_longest_chain(layout: Layout) -> None:
    planned = plan(layout)
    found = days(planned, len(planned.places), Together())
    assert found == pytest.approx(longest_chain(planned))


@few
@given(layouts(4), st.integers(2, 4))
def test_with_few_people_it_lies_between_the_optimum_and_graham(
    layout: Layout, people: int
) -> None:
    planned = plan(layout)
    best, found = optimum(planned, people), days(planned, people, Together())
    assert best * (1 - 1e-9) <= found <= (2 - 1 / people) * best * (1 + 1e-9)


@pytest.mark.parametrize(("columns", "rows", "people"), [(3, 5, 2), (4, 4, 3), (5, 4, 3)])
def test_on_plain_grids_the_longest_chain_first_is_the_optimum(
    columns: int, rows: int, people: int
) -> None:
    planned = plan(Layout(columns, rows, 20))
    assert days(planned, people, Together()) == pytest.approx(optimum(planned, people))


@often
@given(layouts(6), st.integers(1, 4))
def test_one_at_a_time_on_one_piece_is_the_sum_of_the_work(layout: Layout, people: int) -> None:
    planned = plan(layout)
    total = sum(stitches(planned).values())
    if sum(not supports for supports in planned.stands_on.values()) == 1:  # one piece all the time
        assert days(planned, people, Together(1)) == pytest.approx(total)
        assert days(planned, people, Travelling(Days(3))) == pytest.approx(total)
    assert days(planned, 1, Travelling(Days(3))) == pytest.approx(total)


@pytest.mark.parametrize("people", range(1, 7))
def test_equal_panels_are_worked_at_the_same_time(people: int) -> None:
    """Six panels of one column: what travels is as quick as the fullest pair of hands."""
    planned = cut(6, 4, 1, 2, 3, 4, 5)
    a_square = worked(20, planned.layout.mitre)
    assert days(planned, people, Travelling(Days(0))) <= -(-6 // people) * 4 * a_square * (1 + 1e-9)


def test_luck_is_lognormal() -> None:
    """One square: its days over many runs are those of the stated distribution."""
    one = Situation(plan(Layout(1, 1, 20)), [Knitter(Days(4, 0.5))], Together())
    told = forecast(one, times=4000, seed=1)
    random = Random(2)
    drawn = sorted(random.lognormvariate(1.3862944, 0.5) for _ in range(40_000))
    for share in (0.1, 0.5, 0.9):
        assert told.within(share) == pytest.approx(drawn[int(share * 40_000)], rel=0.05)
