"""Who knits alike: groups of gauges, against every way to divide them."""

from itertools import combinations, pairwise
from math import log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.gauge.alike import AlikeKnitters, alike_knitters
from drives.craft.gauge.tension import Compared, Tension
from drives.craft.numbers.ranges import Range
from tests.craft.situations import often

members = st.dictionaries(
    st.integers(1, 99), st.integers(150, 260).map(lambda tenths: tenths / 10), max_size=7
)


def test_those_who_knit_alike_are_together() -> None:
    assert alike_knitters({7: 20.4, 1: 24.0, 3: 20.0, 4: 23.5, 9: 16.0}) == (
        AlikeKnitters((9,), Range(16.0, 16.0)),
        AlikeKnitters((3, 7), Range(20.0, 20.4)),
        AlikeKnitters((4, 1), Range(23.5, 24.0)),
    )


def test_nobody_and_everybody() -> None:
    assert alike_knitters({}) == ()
    assert alike_knitters({2: 20, 1: 20}) == (AlikeKnitters((1, 2), Range(20, 20)),)
    assert alike_knitters({1: 20, 2: 21}) == (
        AlikeKnitters((1, 2), Range(20, 21)),
    )  # the tolerance itself
    assert len(alike_knitters({1: 20, 2: 21.1})) == 2
    assert len(alike_knitters({1: 20, 2: 21.1}, tolerance=0.1)) == 1


def test_the_wider_gap_divides() -> None:
    # Taken greedily from the loose end 20.8 would go with 20, away from its neighbour 21
    assert [group.members for group in alike_knitters({1: 20, 2: 20.8, 3: 21, 4: 21.6})] == [
        (1,),
        (2, 3, 4),
    ]


def test_of_equal_ways_the_looser_are_together() -> None:
    assert [group.members for group in alike_knitters({1: 20, 2: 20.8, 3: 20.8 * 1.04})] == [
        (1, 2),
        (3,),
    ]


def test_how_far_apart_a_group_is() -> None:
    two, one = alike_knitters({1: 20, 2: 20.6, 3: 24})
    assert two.apart == pytest.approx(0.03)
    assert one.apart == 0


@often
@given(members)
def test_no_other_way_to_divide_them_is_better(gauges: dict[int, float]) -> None:
    found = alike_knitters(gauges)
    order = [member for group in found for member in group.members]
    assert sorted(order) == sorted(gauges)
    assert [gauges[member] for member in order] == sorted(gauges.values())
    logs = sorted(map(log, gauges.values()))
    ways = []
    for groups in range(1, len(logs) + 1):
        for cuts in combinations(range(1, len(logs)), groups - 1):
            apart = [logs[to - 1] - logs[at] for at, to in pairwise((0, *cuts, len(logs)))]
            if max(apart) <= log(1.05) + 1e-9:
                ways.append((groups, sum(apart)))
    difference = sum(log(group.gauge.high / group.gauge.low) for group in found)
    if gauges:
        groups, least = min(ways)
        assert len(found) == groups
        assert difference == pytest.approx(least, abs=1e-6)


@often
@given(members)
def test_within_a_group_nobody_is_off_beside_another(gauges: dict[int, float]) -> None:
    for group in alike_knitters(gauges):
        assert Compared(group.gauge.low, group.gauge.high).tension is Tension.EVEN


@often
@given(members, st.floats(0.3, 3))
def test_units_and_the_order_of_asking_change_nothing(
    gauges: dict[int, float], factor: float
) -> None:
    found = alike_knitters(gauges)
    other = alike_knitters({member: gauges[member] * factor for member in reversed(gauges)})
    assert [group.members for group in other] == [group.members for group in found]
