"""Fibres as a yarn's band tells them, and of several yarns together."""

from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from drives.craft.fibre.blend import blend
from drives.craft.fibre.fibres import UNKNOWN, Fibre, Fibres, fibres_line, parse
from drives.craft.knitter import English

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


@pytest.mark.parametrize(
    ("text", "fibres"),
    [
        ("80 % acrylic, 20 % wool", {ACRYLIC: 80, WOOL: 20}),
        ("80% Acrylic / 20% Merino Wool", {ACRYLIC: 80, WOOL: 20}),
        ("Wool 75%, Nylon 25%.", {WOOL: 75, NYLON: 25}),
        ("75 per cent superwash wool and 25 percent polyamide", {WOOL: 75, NYLON: 25}),
        ("50% merino 30% wool 20% cotton", {WOOL: 80, COTTON: 20}),
        ("60% bamboo & 40% organic cotton", {Fibre.BAMBOO: 60, COTTON: 40}),
        ("100 % baby alpaca", {Fibre.ALPACA: 100}),
        ("90% cotton; 10% other fibers", {COTTON: 90, Fibre.OTHER: 10}),
    ],
)
def test_fibres_are_read_as_bands_tell_them(text: str, fibres: Fibres) -> None:
    assert parse(text) == fibres


@pytest.mark.parametrize("text", ["", "  ", "?", "unknown", "Not known", UNKNOWN])
def test_what_nobody_knows_is_none(text: str) -> None:
    assert parse(text) is None


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("wool", "“wool” tells no fibre and its share"),
        ("100 % acrylic, wool", "“wool” tells no fibre and its share"),
        ("80 % acrylic, wool 20 %", "“wool 20 %” tells no fibre and its share"),
        ("33.3 % wool", "whole per cent"),
        ("100", "“100” tells no fibre"),
        ("80 % acrylic, 15 % wool", "add up to 95 %, not to 100 %"),
        ("100 % wool, 20 % nylon", "add up to 120 %"),
        ("100 % wool, 0 % nylon", "add up to 100 %"),
        ("80 % acrylic, 20 % unicorn", "“unicorn” is not one of the fibres"),
        ("100 % faux wool", "“faux wool” is not one of the fibres"),
        ("100 % superwash", "“superwash” is not one of the fibres"),
    ],
)
def test_what_cannot_be_read_is_never_guessed(text: str, says: str) -> None:
    with pytest.raises(ValueError) as refused:
        parse(text)
    assert says in str(refused.value)


def test_the_largest_share_is_told_first() -> None:
    assert fibres_line({WOOL: 20, ACRYLIC: 80}) == "80 % acrylic, 20 % wool"
    assert fibres_line({NYLON: 25, WOOL: 75}, English.AMERICAN) == "75 % wool, 25 % nylon"
    assert fibres_line(None) == "fibres not known"


@given(compositions(), st.sampled_from(English))
@settings(max_examples=40)
def test_what_is_told_can_be_read_again(fibres: Fibres, english: English) -> None:
    assert parse(fibres_line(fibres, english)) == fibres


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
