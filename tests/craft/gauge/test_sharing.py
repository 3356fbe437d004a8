"""Who gets which panel: against every way to share them out."""

from collections.abc import Sequence
from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.gauge.sharing import Able, Panel, Share, shares
from drives.craft.gauge.sharing import alike as all_alike
from tests.craft.situations import often

GAUGES = st.sampled_from([None, 18.0, 18.5, 20.0, 20.6, 23.0])
PEOPLE = st.lists(st.builds(Able, st.integers(1, 9), GAUGES), min_size=1, max_size=4)
BEGUN = st.lists(st.sampled_from([18.0, 20.0]), max_size=1).map(tuple)
PANELS = st.lists(st.builds(Panel, st.integers(1, 12), BEGUN), min_size=1, max_size=4)


def alike(gauges: Sequence[float | None]) -> bool:
    told = [gauge for gauge in gauges if gauge is not None]
    return not told or max(told) <= min(told) * (1.05 + 1e-9)


def fastest(panels: Sequence[Panel], people: Sequence[Able], room: int) -> float | None:
    """Every choice of panels for everybody is tried: one of their own together, or some alone."""
    found = []
    subsets = list(product([False, True], repeat=len(panels)))
    for has in product(subsets, repeat=len(people)):
        teams = [[who for who, mine in enumerate(has) if mine[n]] for n in range(len(panels))]
        if not all(teams) or any(
            len(team) > 1 and any(sum(has[who]) > 1 for who in team) for team in teams
        ):
            continue
        if not all(
            alike([people[who].gauge for who in team] + list(panel.gauges))
            for panel, team in zip(panels, teams, strict=True)
        ):
            continue
        took = [0.0] * len(people)
        for panel, team in zip(panels, teams, strict=True):
            speeds = sorted((1 / people[who].days for who in team), reverse=True)[:room]
            for who in team:
                took[who] += panel.work / sum(speeds)
        found.append(max(took))
    return min(found, default=None)


@often
@given(PANELS, PEOPLE, st.integers(1, 3))
def test_nobody_shares_them_out_better(panels: list[Panel], people: list[Able], room: int) -> None:
    found, best = shares(panels, people, room, 0.05), fastest(panels, people, room)
    if best is None:
        assert found is None
        return
    assert found
    assert max(share.days for share in found) == pytest.approx(best)
    teams = [share.people for share in found]
    assert all(teams)
    for panel, team in zip(panels, teams, strict=True):
        assert alike([*(people[who].gauge for who in team), *panel.gauges])
        assert len(team) <= max(room, 1)
        for who in team:
            assert len(team) == 1 or sum(who in other for other in teams) == 1


def test_the_quickest_gets_the_largest() -> None:
    people = [Able(9), Able(3), Able(6)]
    assert shares([Panel(4), Panel(12), Panel(6)], people, 1) == [
        Share((0,), 36),
        Share((1,), 36),
        Share((2,), 36),
    ]


def test_who_began_a_panel_keeps_it_where_that_costs_nothing() -> None:
    people = [Able(5), Able(5), Able(5)]
    for two in (frozenset({0}), frozenset({2})):
        found = shares([Panel(6), Panel(6, begun_by=two), Panel(6)], people, 1)
        assert found
        assert found[1] == Share(tuple(two), 30)
    quicker = shares([Panel(9, begun_by=frozenset({0})), Panel(3)], [Able(6), Able(3)], 1)
    assert quicker == [Share((1,), 27), Share((0,), 18)]
    many = shares([Panel(6, begun_by=frozenset({9}))] + [Panel(6)] * 9, [Able(5)] * 10, 1)
    assert many
    assert many[0].people == (9,)


def test_one_has_several_and_several_have_one() -> None:
    assert shares([Panel(6), Panel(3), Panel(3)], [Able(2), Able(2)], 1) == [
        Share((0,), 12),
        Share((1,), 12),
        Share((1,), 12),
    ]
    assert shares([Panel(6)], [Able(2), Able(2), Able(2)], 2) == [Share((0, 1), 6)]


def test_only_who_knits_alike_is_together() -> None:
    loose, tight, unknown = Able(4, 18), Able(4, 21), Able(4)
    together = shares([Panel(8), Panel(8)], [loose, tight, loose, tight])
    assert together
    assert [share.people for share in together] in ([(0, 2), (1, 3)], [(1, 3), (0, 2)])
    assert shares([Panel(8, (21.0,))], [loose]) is None
    assert shares([Panel(8, (21.0,))], [unknown, loose]) == [Share((0,), 32)]
    assert shares([Panel(8, (18.0, 21.0))], [loose]) is None
    assert shares([Panel(8)], []) is None


def test_many_are_shared_out_one_by_one() -> None:
    found = shares([Panel(4)] * 12, [Able(5)] * 12, 1)
    assert found
    assert {share.days for share in found} == {20}
    assert len({share.people for share in found}) == 12
    helped = shares([Panel(4)] * 3, [Able(5)] * 9)
    assert helped
    assert sorted(len(share.people) for share in helped) == [3, 3, 3]
    assert shares([Panel(4, (30.0,))] * 9, [Able(5, 20)]) is None


def test_eight_panels_and_eight_people_take_no_time() -> None:
    panels = [Panel(9 + number * 1.7) for number in range(8)]
    people = [Able(3 + number * 0.9, 18 + number * 0.6) for number in range(8)]
    found = shares(panels, people, 1)
    assert found
    # One each, the largest to the quickest: the least possible largest product.
    pairs = zip(sorted((each.work for each in panels), reverse=True), people, strict=True)
    assert max(share.days for share in found) == max(work * who.days for work, who in pairs)


@often
@given(PANELS, PEOPLE)
def test_all_who_may_knit_on_a_panel_knit_alike(
    panels: Sequence[Panel], people: Sequence[Able]
) -> None:
    found = all_alike(panels, people)
    for panel, may in zip(panels, found, strict=True):
        assert may
        if shares(panels, people) is not None:
            assert alike([people[who].gauge for who in may] + list(panel.gauges))
            left_out = set(range(len(people))) - may
            gauges = [people[who].gauge for who in may] + list(panel.gauges)
            assert not any(alike([*gauges, people[who].gauge]) for who in left_out)
