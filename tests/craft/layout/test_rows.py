"""Every row, worked stitch by stitch by a knitter who only reads. craft.md, section 2."""

import pytest

from drives.craft.knitter import English
from drives.craft.layout.layout import Layout, Mitre
from drives.craft.layout.plan import plan
from drives.craft.layout.rows import Row, Side, compact, rows, rows_of, worked
from drives.craft.layout.words import glossary
from drives.craft.places import Place
from tests.craft.knitter import Knitter, Mistake

SIDES = range(2, 61)
each_english = pytest.mark.parametrize("english", English)
each_mitre = pytest.mark.parametrize("mitre", Mitre)


def with_foundation(stitches: int, mitre: Mitre, english: English) -> Knitter:
    """Section 2: the marker after n of 2n stitches, or the middle one of 2n + 1 marked."""
    centred = mitre is Mitre.CENTRED
    return Knitter(
        2 * stitches + centred,
        stitches + centred,
        marked=centred,
        glossary=glossary(mitre, english),
    )


@each_mitre
@each_english
def test_working_what_is_written_leaves_what_is_stated(mitre: Mitre, english: English) -> None:
    for stitches in SIDES:
        knitter = with_foundation(stitches, mitre, english)
        whole = frozenset().union(*knitter.stitches)
        for number, row in enumerate(rows(stitches, mitre), 1):
            knitter.work(row.instruction)
            assert (row.row, row.side) == (number, knitter.side)
            assert row.stitches == len(knitter.stitches)
        assert number == rows_of(stitches) == 2 * stitches
        assert knitter.fastened_off
        assert knitter.stitches == [whole]


@each_mitre
def test_all_decreases_lie_on_the_mitre(mitre: Mitre) -> None:
    for stitches in SIDES:
        knitter = with_foundation(stitches, mitre, English.BRITISH)
        for row in rows(stitches, mitre)[:-1]:
            knitter.work(row.instruction)
            decreased = row.row // 2
            plain = [1] * (stitches - decreased - (mitre is Mitre.PAIRED))
            if mitre is Mitre.PAIRED:
                middle = [decreased + 1, 0, decreased + 1]  # 0: the marker
            else:
                middle = [2 * decreased + 1]
            assert [len(stitch or ()) for stitch in knitter.needle] == plain + middle + plain


@each_mitre
@each_english
def test_the_compact_form_is_worked_to_the_same_rows(mitre: Mitre, english: English) -> None:
    for stitches in SIDES:
        told = {
            row: stretch
            for stretch in compact(stitches, mitre)
            for row in range(stretch.first, stretch.last + 1, 2)
        }
        full, short = (with_foundation(stitches, mitre, english) for _ in range(2))
        assert sorted(told) == list(range(1, 2 * stitches + 1))
        for row in rows(stitches, mitre):
            full.work(row.instruction)
            short.work(told[row.row].instruction)
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


def test_the_first_and_the_last_rows_in_full() -> None:
    paired, centred = rows(20, Mitre.PAIRED), rows(20, Mitre.CENTRED)
    assert paired[:3] == (
        Row(1, Side.WRONG, "k20, slip marker, k20", 40),
        Row(2, Side.RIGHT, "k18, k2tog, slip marker, ssk, k18", 38),
        Row(3, Side.WRONG, "k19, slip marker, k19", 38),
    )
    assert paired[-3:] == (
        Row(38, Side.RIGHT, "k2tog, slip marker, ssk", 2),
        Row(39, Side.WRONG, "k1, slip marker, k1", 2),
        Row(40, Side.RIGHT, "remove marker, k2tog, fasten off", 1),
    )
    assert centred[:2] == (
        Row(1, Side.WRONG, "k41", 41),
        Row(2, Side.RIGHT, "k19, cdd, k19", 39),
    )
    assert centred[-2:] == (Row(39, Side.WRONG, "k3", 3), Row(40, Side.RIGHT, "cdd, fasten off", 1))


@each_mitre
def test_a_side_has_one_ridge_for_each_stitch(mitre: Mitre) -> None:
    # craft.md, section 1: two rows make a ridge
    assert len(rows(34, mitre)) == 2 * 34


@each_mitre
def test_a_large_square_is_worked_like_a_small_one_with_more_stitches(mitre: Mitre) -> None:
    planned = plan(Layout(1, 1, 60, mitre))
    foundation = sum(step.stitches for step in planned.foundation(Place(1, 1)))
    assert rows(60, mitre)[0].stitches == foundation


@pytest.mark.parametrize(
    "wrong",
    [
        "k18, k2tog, slip marker, ssk, k19",
        "k18, k2tog, slip marker, ssk, k17",
        "k19, k2tog, slip marker, ssk, k17",
        "k20, k20",
        "k18, k2tog, ssk, slip marker, k18",
        "k18, k2tog, slip marker, ssk, k18 (4 fewer each time)",
        "k18, cdd, k18",
        "k20, slip marker, k20, fasten off",
    ],
)
def test_the_knitter_sees_mistakes(wrong: str) -> None:
    knitter = with_foundation(20, Mitre.PAIRED, English.BRITISH)
    knitter.work("k20, slip marker, k20")
    with pytest.raises(Mistake):
        knitter.work(wrong)


def test_the_knitter_sees_a_decrease_beside_the_marked_stitch() -> None:
    knitter = with_foundation(20, Mitre.CENTRED, English.BRITISH)
    knitter.work("k41")
    with pytest.raises(Mistake):
        knitter.work("k18, cdd, k20")


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
