"""Fibres of a yarn, and of several yarns together."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drives.craft.fibre.blend import blend
from drives.craft.fibre.fibres import Fibre, Fibres, by_share
from drives.craft.fibre.notation import fibres_code

ACRYLIC, WOOL, NYLON, COTTON = Fibre.ACRYLIC, Fibre.WOOL, Fibre.POLYAMIDE, Fibre.COTTON


@st.composite
def compositions(draw: st.DrawFn) -> Fibres:
    chosen = draw(st.lists(st.sampled_from(Fibre), min_size=1, max_size=6, unique=True))
    cuts = draw(
        st.lists(
            st.integers(1, 99), min_size=len(chosen) - 1, max_size=len(chosen) - 1, unique=True
        )
    )
    ends = [0, *sorted(cuts), 100]
    return dict(zip(chosen, (b - a for a, b in pairwise(ends)), strict=True))


def test_the_largest_share_comes_first() -> None:
    assert by_share({WOOL: 20, ACRYLIC: 60, COTTON: 20}) == [
        (ACRYLIC, 60), (COTTON, 20), (WOOL, 20),
    ]  # fmt: skip


def test_codes_are_the_same_for_every_reader() -> None:
    assert fibres_code({NYLON: 25, WOOL: 75}) == "75 % wool, 25 % polyamide"
    assert fibres_code(None) == ""


def test_a_blend_goes_by_grams() -> None:
    assert blend([({WOOL: 100}, 50), ({ACRYLIC: 100}, 150)]) == {ACRYLIC: 75, WOOL: 25}
    # 3 × 100 g, thirds: 33 + 33 + 34
    thirds = blend([({fibre: 100}, 100) for fibre in (WOOL, ACRYLIC, COTTON)])
    assert thirds is not None
    assert sorted(thirds.values()) == [33, 33, 34]
    # 80 and 60 of acrylic by 100 and 300 g
    mixed = blend([({ACRYLIC: 80, WOOL: 20}, 100), ({ACRYLIC: 60, WOOL: 40}, 300)])
    assert mixed == {ACRYLIC: 65, WOOL: 35}


def test_a_trace_is_told() -> None:
    assert blend([({ACRYLIC: 100}, 2000), ({WOOL: 100}, 3)]) == {ACRYLIC: 99, WOOL: 1}


def test_a_blend_with_something_unknown_is_not_known() -> None:
    assert blend([({WOOL: 100}, 100), (None, 1)]) is None
    assert blend([({WOOL: 100}, 100), (None, 0)]) == {WOOL: 100}
    assert blend([]) is None


@given(st.lists(st.tuples(compositions(), st.floats(0.1, 2000)), min_size=1, max_size=8))
@settings(max_examples=60)
def test_a_blend_is_whole_and_leaves_nothing_out(yarns: list[tuple[Fibres, float]]) -> None:
    found = blend(yarns)
    assert found is not None
    assert sum(found.values()) == 100
    assert min(found.values()) >= 1
    assert set(found) == {fibre for fibres, _ in yarns for fibre in fibres}
    total = sum(grams for _, grams in yarns)
    exact = {
        fibre: sum(fibres.get(fibre, 0) * grams for fibres, grams in yarns) / total
        for fibre in found
    }
    traces = sum(share < 1 for share in exact.values())  # each takes less than 1 % from the others
    for fibre, share in found.items():
        assert share == pytest.approx(exact[fibre], abs=1 + traces)
