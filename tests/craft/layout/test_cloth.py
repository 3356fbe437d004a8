"""Cutting cloth: nothing begun is disturbed, and no seam is sewn for nothing."""

from dataclasses import replace
from math import comb

import pytest
from hypothesis import given
from hypothesis import strategies as st

from drives.craft.layout.cloth import Cloth
from drives.craft.layout.cuts import Along, Cut, Stretch, every_cut
from drives.craft.layout.even import even_cuts, even_lines
from drives.craft.layout.layout import Layout, Seam
from drives.craft.layout.panels import bent, strips
from drives.craft.layout.plan import plan
from drives.craft.places import Place
from tests.craft import reference
from tests.craft.brief import places
from tests.craft.cuts_reference import all_cuts, healed
from tests.craft.layouts import layouts
from tests.craft.situations import often

NONE = frozenset[Place]()


@st.composite
def begun_blankets(draw: st.DrawFn) -> tuple[Layout, frozenset[Place], frozenset[Place]]:
    """A layout, what is finished of it, and what is begun."""
    layout = draw(layouts(5))
    order = plan(layout).places
    done = draw(st.integers(0, len(order)))
    finished = frozenset(order[:done])
    able = [place for place in order[done:] if finished.issuperset(plan(layout).stands_on[place])]
    return layout, finished, finished | frozenset(able[: draw(st.integers(0, 2))])


@often
@given(begun_blankets(), st.integers(2, 4))
def test_all_cuts_are_those_that_can_be(
    blanket: tuple[Layout, frozenset[Place], frozenset[Place]], most: int
) -> None:
    layout, _finished, begun = blanket
    cloth = Cloth(plan(layout), begun)
    parts, cuts = every_cut(layout.columns, layout.rows, most, 100_000)
    assert parts == most
    found = {cloth.told(cloth.of_cut(cut).seams) for cut in cuts}
    assert found - {frozenset()} == all_cuts(layout, begun, most)


@often
@given(begun_blankets())
def test_a_cut_disturbs_nothing_begun_and_no_large_square(
    blanket: tuple[Layout, frozenset[Place], frozenset[Place]],
) -> None:
    layout, _finished, begun = blanket
    before = plan(layout)
    cloth = Cloth(before, begun)
    _parts, cuts = every_cut(layout.columns, layout.rows, 3, 100_000)
    for cut in [*cuts[:30], *even_cuts(cloth, 6)]:
        parts = cloth.of_cut(cut)
        seams = cloth.told(parts.seams)
        assert not seams & layout.seams
        after = plan(replace(layout, seams=layout.seams | seams))  # raises nothing
        assert set(after.places) == set(before.places)
        assert {frozenset(cloth.places[n] for n in panel) for panel in parts.panels} == set(
            after.pieces()
        )
        for place in begun:
            assert after.foundation(place) == before.foundation(place)
            assert after.size[place] == before.size[place]


def test_what_is_begun_is_gone_round() -> None:
    begun = frozenset(places("A1", "A2", "B1", "B2"))
    cloth = Cloth(plan(Layout(4, 4, 20)), begun)
    parts = cloth.of_cut(Cut(Along.COLUMNS, (1,), ((), (2,))))
    assert cloth.told(parts.seams) == frozenset(
        Seam(*places(*seam.split("-"))) for seam in ("A3-B3", "A4-B4", "B2-B3", "C2-C3", "D2-D3")
    )
    assert sorted(map(len, parts.panels)) == [6, 10]
    assert not cloth.of_cut(Cut(Along.COLUMNS, (1,), ((), ()))).seams


def test_how_many_cuts_there_are() -> None:
    most, cuts = every_cut(4, 6, 4, 10_000)
    assert most == 4
    for way, wide, long in ((Along.COLUMNS, 4, 6), (Along.ROWS, 6, 4)):
        expected = sum(
            comb(wide - 1, strips - 1) * comb(strips * (long - 1), parts - strips)
            for parts in (2, 3, 4)
            for strips in range(1, parts + 1)
        )
        assert sum(cut.along is way for cut in cuts) == expected
    assert len(set(cuts)) == len(cuts)
    parts, fewer = every_cut(4, 6, 4, len(cuts) - 1)
    assert parts == 3
    assert fewer == cuts[: len(fewer)]
    assert every_cut(4, 6, 4, 3) == (1, [])


@often
@given(st.lists(st.integers(0, 5), min_size=1, max_size=8), st.integers(1, 5))
def test_even_lines_are_nearest_to_even(left: list[int], panels: int) -> None:
    before = [sum(left[:line]) for line in range(len(left) + 1)]
    lines = even_lines(before, [1] * panels)
    if lines is None:
        return
    assert len(lines) == panels - 1
    last = 0
    for number, line in enumerate(lines, 1):
        wanted = before[-1] * number / panels
        misses = {each: abs(before[each] - wanted) for each in range(last + 1, len(left))}
        assert misses[line] == min(misses.values())
        last = line


def test_a_plain_grid_is_cut_as_one_would() -> None:
    assert even_lines(range(0, 121, 12), [1, 1]) == (5,)
    assert even_lines(range(0, 121, 12), [1] * 5) == (2, 4, 6, 8)
    assert even_lines([0, 1], [1, 1]) is None
    cuts = list(even_cuts(Cloth(plan(Layout(6, 6, 20)), NONE), 6))
    assert Cut(Along.COLUMNS, (3,), ((3,), (3,))) in cuts
    assert Cut(Along.COLUMNS, (3,), ((2, 4), (2, 4))) in cuts
    assert {1 + len(cut.lines) + sum(map(len, cut.across)) for cut in cuts} == {2, 3, 4, 5, 6}


def test_even_cuts_turn_aside_where_something_is_begun() -> None:
    begun = frozenset(Place(column, row) for column in range(1, 7) for row in (1, 2))
    cloth = Cloth(plan(Layout(8, 5, 20)), begun)
    assert cloth.blocked[Along.COLUMNS, 5] == 2
    assert cloth.blocked[Along.ROWS, 1] == 6
    assert (Along.COLUMNS, 6) not in cloth.blocked
    straight, right, left = even_cuts(cloth, 2)
    assert straight == Cut(Along.COLUMNS, (5,), ((), ()))
    assert (left, right) == (
        straight._replace(across=((), (2,))),
        straight._replace(across=((2,), ())),
    )


def test_the_fullest_panel_is_split_in_half() -> None:
    cloth = Cloth(plan(Layout(6, 4, 20)), NONE)
    whole = cloth.cut([])
    halves = cloth.split(whole, whole.panels[0], Along.COLUMNS)
    assert halves
    assert sorted(map(len, halves.panels)) == [12, 12]
    third = cloth.split(halves, halves.panels[0], Along.ROWS)
    assert third
    assert sorted(map(len, third.panels)) == [6, 6, 12]
    assert third.seams > halves.seams
    one = Cloth(plan(Layout(1, 1, 20)), NONE)
    assert one.split(one.cut([]), one.cut([]).panels[0], Along.ROWS) is None


def test_a_stretch_is_cut_alone() -> None:
    cloth = Cloth(plan(Layout(2, 2, 20)), NONE)
    corner = [Stretch(Along.COLUMNS, 1, 1, 2), Stretch(Along.ROWS, 1, 0, 1)]
    assert cloth.told(cloth.cut(corner).seams) == {
        Seam(*places("A2", "B2")),
        Seam(*places("A1", "A2")),
    }
    assert cloth.cut(corner[:1]).seams == frozenset()


@pytest.mark.parametrize(
    ("cut", "along", "corner"),
    [
        (Cut(Along.COLUMNS, (2,), ((), ())), Along.COLUMNS, False),
        (Cut(Along.ROWS, (1, 3), ((), (), ())), Along.ROWS, False),
        (Cut(Along.COLUMNS, (), ((1,),)), Along.ROWS, False),
        (Cut(Along.COLUMNS, (2,), ((2,), ())), None, False),
        (Cut(Along.COLUMNS, (2,), ((2,), (2,))), None, False),
    ],
)
def test_what_panels_look_like(cut: Cut, along: Along | None, corner: bool) -> None:
    for missing in (NONE, frozenset(places("B2"))):
        layout = Layout(4, 4, 20, missing=missing)
        cloth = Cloth(plan(layout), NONE)
        seams = cloth.told(cloth.of_cut(cut).seams)
        after = plan(replace(layout, seams=seams))
        assert (strips(after), bent(after)) == (along, corner)


def test_a_panel_round_a_corner() -> None:
    layout = Layout(3, 3, 20)
    wanted = {Seam(*places("A1", "B1")), Seam(*places("A1", "A2"))}
    seams = healed(layout, NONE, wanted)
    assert seams == wanted
    after = plan(replace(layout, seams=seams))
    assert (strips(after), bent(after)) == (None, True)
    assert (strips(plan(layout)), bent(plan(layout))) == (None, False)
    assert len(reference.pieces(replace(layout, seams=seams), set(after.places))) == 2
