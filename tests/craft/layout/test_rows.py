"""Every row, worked stitch by stitch. TRADE.md, section 2."""

import pytest

from drives.craft.layout.layout import Layout, Mitre
from drives.craft.layout.plan import plan
from drives.craft.layout.rows import (
    NeedleMove,
    Row,
    RowPart,
    Side,
    Stretch,
    compact,
    rows,
    rows_of,
    worked,
)
from drives.craft.places import Place
from tests.craft.needle import Mistake, Needle

SIDES = range(2, 61)
each_mitre = pytest.mark.parametrize("mitre", Mitre)


def with_foundation(stitches: int, mitre: Mitre) -> Needle:
    """The marker after n of 2n stitches, or the middle one of 2n + 1. TRADE.md, section 2."""
    centred = mitre is Mitre.CENTRED
    return Needle(2 * stitches + centred, stitches + centred, marked=centred)


@each_mitre
def test_working_each_row_leaves_what_is_stated(mitre: Mitre) -> None:
    for stitches in SIDES:
        needle = with_foundation(stitches, mitre)
        whole = frozenset().union(*needle.stitches)
        for number, row in enumerate(rows(stitches, mitre), 1):
            needle.work_parts(row.parts)
            assert (row.row, row.side) == (number, needle.side)
            assert row.stitches == len(needle.stitches)
        assert number == rows_of(stitches) == 2 * stitches
        assert needle.fastened_off
        assert needle.stitches == [whole]


@each_mitre
def test_all_decreases_lie_on_the_mitre(mitre: Mitre) -> None:
    for stitches in SIDES:
        needle = with_foundation(stitches, mitre)
        for row in rows(stitches, mitre)[:-1]:
            needle.work_parts(row.parts)
            decreased = row.row // 2
            plain = [1] * (stitches - decreased - (mitre is Mitre.PAIRED))
            if mitre is Mitre.PAIRED:
                middle = [decreased + 1, 0, decreased + 1]  # 0: the marker
            else:
                middle = [2 * decreased + 1]
            assert [len(stitch or ()) for stitch in needle.needle] == plain + middle + plain


@each_mitre
def test_the_compact_form_is_worked_to_the_same_rows(mitre: Mitre) -> None:
    for stitches in SIDES:
        told = {
            row: stretch
            for stretch in compact(stitches, mitre)
            for row in range(stretch.first, stretch.last + 1, 2)
        }
        full, short = (with_foundation(stitches, mitre) for _ in range(2))
        assert sorted(told) == list(range(1, 2 * stitches + 1))
        for row in rows(stitches, mitre):
            full.work_parts(row.parts)
            before = len(short.stitches)
            short.work_parts(told[row.row].parts)
            assert told[row.row].fewer in (0, before - len(short.stitches))
            assert short.needle == full.needle
            assert told[row.row].side == row.side
            if row.row == told[row.row].last:
                assert told[row.row].stitches == row.stitches
        assert short.fastened_off


@each_mitre
def test_the_compact_form_has_four_lines(mitre: Mitre) -> None:
    spans = [(stretch.first, stretch.last) for stretch in compact(20, mitre)]
    assert spans == [(1, 1), (2, 38), (3, 39), (40, 40)]


@each_mitre
def test_stitches_worked_in_closed_form(mitre: Mitre) -> None:
    for stitches in SIDES:
        foundation = 2 * stitches + (mitre is Mitre.CENTRED)
        listed = sum(row.stitches for row in rows(stitches, mitre))
        assert worked(stitches, mitre) == foundation + listed


def test_stitches_worked_against_published_ones() -> None:
    # hunnibunnife.blogspot.com/2012/09/blanket-project-thursday-weeks-1.html: 512 a square,
    # which counts the last stitch as it is fastened off; 736 squares are 376 832 stitches
    assert worked(15, Mitre.CENTRED) + 1 == 512
    assert 736 * (worked(15, Mitre.CENTRED) + 1) == 376_832


K2TOG, SSK, CDD = RowPart(NeedleMove.K2TOG), RowPart(NeedleMove.SSK), RowPart(NeedleMove.CDD)
SLIP, REMOVE, OFF = (
    RowPart(NeedleMove.SLIP_MARKER),
    RowPart(NeedleMove.REMOVE_MARKER),
    RowPart(NeedleMove.FASTEN_OFF),
)
TO_END = RowPart(NeedleMove.KNIT_TO_END)


def k(count: int) -> RowPart:
    return RowPart(NeedleMove.KNIT, count)


def test_the_first_and_the_last_rows_in_full() -> None:
    paired, centred = rows(20, Mitre.PAIRED), rows(20, Mitre.CENTRED)
    assert paired[:3] == (
        Row(1, Side.WRONG, (k(20), SLIP, k(20)), 40),
        Row(2, Side.RIGHT, (k(18), K2TOG, SLIP, SSK, k(18)), 38),
        Row(3, Side.WRONG, (k(19), SLIP, k(19)), 38),
    )
    assert paired[-3:] == (
        Row(38, Side.RIGHT, (K2TOG, SLIP, SSK), 2),
        Row(39, Side.WRONG, (k(1), SLIP, k(1)), 2),
        Row(40, Side.RIGHT, (REMOVE, K2TOG, OFF), 1),
    )
    assert centred[:2] == (
        Row(1, Side.WRONG, (k(41),), 41),
        Row(2, Side.RIGHT, (k(19), CDD, k(19)), 39),
    )
    assert centred[-2:] == (
        Row(39, Side.WRONG, (k(3),), 3),
        Row(40, Side.RIGHT, (CDD, OFF), 1),
    )


def test_the_compact_form_in_full() -> None:
    to_marker, to_marked = NeedleMove.KNIT_TO_MARKER, NeedleMove.KNIT_TO_MARKED
    decrease = (RowPart(to_marker, 2), K2TOG, SLIP, SSK, TO_END)
    assert compact(20, Mitre.PAIRED) == (
        Stretch(1, 1, Side.WRONG, (k(20), SLIP, k(20)), 40),
        Stretch(2, 38, Side.RIGHT, decrease, 2, fewer=2),
        Stretch(3, 39, Side.WRONG, (RowPart(to_marker), SLIP, TO_END), 2),
        Stretch(40, 40, Side.RIGHT, (REMOVE, K2TOG, OFF), 1),
    )
    assert compact(20, Mitre.CENTRED) == (
        Stretch(1, 1, Side.WRONG, (k(41),), 41),
        Stretch(2, 38, Side.RIGHT, (RowPart(to_marked, 1), CDD, TO_END), 3, fewer=2),
        Stretch(3, 39, Side.WRONG, (RowPart(NeedleMove.KNIT_ALL),), 3),
        Stretch(40, 40, Side.RIGHT, (CDD, OFF), 1),
    )


@each_mitre
def test_a_side_has_one_ridge_for_each_stitch(mitre: Mitre) -> None:
    # TRADE.md, section 1: two rows make a ridge
    assert len(rows(34, mitre)) == 2 * 34


@each_mitre
def test_a_large_square_is_worked_like_a_small_one_with_more_stitches(mitre: Mitre) -> None:
    planned = plan(Layout(1, 1, 60, mitre))
    foundation = sum(step.stitches for step in planned.foundation(Place(1, 1)))
    assert rows(60, mitre)[0].stitches == foundation


@pytest.mark.parametrize(
    "wrong",
    [
        (k(18), K2TOG, SLIP, SSK, k(19)),
        (k(18), K2TOG, SLIP, SSK, k(17)),
        (k(19), K2TOG, SLIP, SSK, k(17)),
        (k(20), k(20)),
        (k(18), K2TOG, SSK, SLIP, k(18)),
        (k(18), CDD, k(18)),
        (k(20), SLIP, k(20), OFF),
    ],
)
def test_the_needle_shows_mistakes(wrong: tuple[RowPart, ...]) -> None:
    needle = with_foundation(20, Mitre.PAIRED)
    needle.work_parts((k(20), SLIP, k(20)))
    with pytest.raises(Mistake):
        needle.work_parts(wrong)


@pytest.mark.parametrize(
    ("stitches", "numbers"),
    [
        (2, ["1", "2", "3", "4"]),
        (3, ["1", "2, 4", "3, 5", "6"]),
        (20, ["1", "2, 4 … 38", "3, 5 … 39", "40"]),
    ],
)
def test_rows_worked_alike_are_numbered_in_one_line(stitches: int, numbers: list[str]) -> None:
    for mitre in Mitre:
        assert [stretch.numbers for stretch in compact(stitches, mitre)] == numbers
