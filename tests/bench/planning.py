"""Planning a grid against building its graph and its generations with networkx."""

from collections.abc import Iterator
from functools import partial

import networkx

from drives.craft.layout.layout import Layout
from drives.craft.layout.plan import plan

from .figures import Figure, milliseconds, side_by_side


def figures() -> Iterator[Figure]:
    ours, floor = side_by_side(partial(_ours, 100), partial(_networkx, 100))
    yield Figure(
        "plan 100 × 100 with all foundations / networkx graph",
        milliseconds(ours), milliseconds(floor), floor / ours, 3, at_least=True,
    )  # fmt: skip
    large, small = side_by_side(partial(_ours, 150), partial(_ours, 100))
    yield Figure(
        "plan 22 500 squares / 10 000 squares",
        milliseconds(large), milliseconds(small), large / small, 2.6, at_least=False,
    )  # fmt: skip


def _ours(side: int) -> None:
    planned = plan(Layout(columns=side, rows=side, stitches=20))
    for place in planned.places:
        planned.foundation(place)


def _networkx(side: int) -> list[list[tuple[int, int]]]:
    graph: networkx.DiGraph[tuple[int, int]] = networkx.DiGraph()
    for column in range(side):
        for row in range(side):
            graph.add_node((column, row))
            if column:
                graph.add_edge((column - 1, row), (column, row))
            if row:
                graph.add_edge((column, row - 1), (column, row))
    return [list(generation) for generation in networkx.topological_generations(graph)]
