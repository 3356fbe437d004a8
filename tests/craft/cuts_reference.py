"""Every way to cut a small blanket, tried one by one: strips, and lines across each of them."""

from collections.abc import Iterator, Sequence, Set
from itertools import chain, combinations
from typing import Any

import networkx

from drives.craft.layout.layout import Layout, Seam
from drives.craft.places import Place

from . import reference


def all_cuts(layout: Layout, begun: Set[Place], most: int) -> set[frozenset[Seam]]:
    """New seams of all cuts into at most so many parts, before anything stands in their way."""
    found = {
        healed(layout, begun, wanted)
        for turned in (False, True)
        for wanted in _strips(layout, turned, most)
    }
    return found - {frozenset()}


def healed(layout: Layout, begun: Set[Place], wanted: Set[Seam]) -> frozenset[Seam]:
    """Those that can be cut, without those that have one and the same panel on both sides."""
    owner = {unit: square.at for unit, square in reference.owners(layout).items()}
    graph: networkx.Graph[Place] = networkx.Graph()
    graph.add_nodes_from(owner.values())
    cut = set()
    for unit, square in owner.items():
        for beyond in (Place(unit.column + 1, unit.row), Place(unit.column, unit.row + 1)):
            other, seam = owner.get(beyond), Seam(unit, beyond)
            if other is None or seam in layout.seams:
                continue
            if seam in wanted and other != square and other not in begun:
                cut.add(seam)
            else:
                graph.add_edge(square, other)
    panel = {
        square: n for n, each in enumerate(networkx.connected_components(graph)) for square in each
    }
    return frozenset(seam for seam in cut if panel[owner[seam.first]] != panel[owner[seam.second]])


def _strips(layout: Layout, turned: bool, most: int) -> Iterator[frozenset[Seam]]:
    wide, long = layout.columns, layout.rows
    if turned:
        wide, long = long, wide
    for lines in _subsets(range(1, wide), most - 1):
        strips = list(zip((0, *lines), (*lines, wide), strict=True))
        everywhere = [(strip, line) for strip in range(len(strips)) for line in range(1, long)]
        for chosen in _subsets(everywhere, most - len(strips)):
            across = [
                [line for its, line in chosen if its == strip] for strip in range(len(strips))
            ]
            edges = [((line, y), (line + 1, y)) for line in lines for y in range(1, long + 1)]
            edges += [
                ((x, line), (x, line + 1))
                for (first, last), own in zip(strips, across, strict=True)
                for line in own
                for x in range(first + 1, last + 1)
            ]
            yield frozenset(
                Seam(*(Place(*(reversed(end) if turned else end)) for end in edge))
                for edge in edges
            )


def _subsets(things: Sequence[Any], most: int) -> Iterator[tuple[Any, ...]]:
    counts = range(min(len(things), most) + 1)
    return chain.from_iterable(combinations(things, count) for count in counts)
