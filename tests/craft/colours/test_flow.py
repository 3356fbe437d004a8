"""Flows against networkx on random networks."""

from random import Random

import networkx
import pytest

from drives.craft.colours.flow import SINK, SOURCE, Network
from drives.craft.colours.task import Work


@pytest.mark.parametrize("seed", range(20))
def test_the_greatest_flow_and_what_holds_it_back(seed: int) -> None:
    random = Random(seed)
    network, graph = Network(Work()), networkx.DiGraph()
    nodes = [SOURCE, SINK, *(network.node() for _ in range(random.randint(0, 12)))]
    graph.add_nodes_from(nodes)
    pipes = {}
    for _ in range(random.randint(1, 50)):
        start, end = random.sample(nodes, k=2)
        if not graph.has_edge(start, end):
            room = random.randint(0, 9)
            pipes[start, end] = network.pipe(start, end, room)
            graph.add_edge(start, end, capacity=room)
    total = network.fill()
    assert total == networkx.maximum_flow_value(graph, SOURCE, SINK)
    for node in nodes[2:]:
        arrives = sum(network.sent(pipe) for (_, end), pipe in pipes.items() if end == node)
        leaves = sum(network.sent(pipe) for (start, _), pipe in pipes.items() if start == node)
        assert arrives == leaves
    reached = network.reached()
    assert SINK not in reached
    cut = [edge for edge in graph.edges if edge[0] in reached and edge[1] not in reached]
    assert sum(graph.edges[edge]["capacity"] for edge in cut) == total
