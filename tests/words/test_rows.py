"""Every row as it is written, worked stitch by stitch by a knitter who only reads."""

import pytest
from django.utils import translation

from drives.craft.layout.layout import Mitre
from drives.craft.layout.rows import compact, rows
from drives.words.rows import glossary, instructions, row_lines, stretch_lines, stretch_words
from tests.craft.needle import Mistake
from tests.words.knitter import Knitter

SIDES = (2, 3, 4, 20, 47)
each_mitre = pytest.mark.parametrize("mitre", Mitre)


def with_foundation(stitches: int, mitre: Mitre) -> Knitter:
    """The marker after n of 2n stitches, or the middle one of 2n + 1 marked."""
    centred = mitre is Mitre.CENTRED
    return Knitter(
        2 * stitches + centred,
        stitches + centred,
        marked=centred,
        glossary=glossary(mitre),
    )


@each_mitre
def test_working_what_is_written_leaves_what_is_stated(mitre: Mitre) -> None:
    for stitches in SIDES:
        knitter = with_foundation(stitches, mitre)
        every = rows(stitches, mitre)
        for row, instruction in zip(every, instructions(every), strict=True):
            knitter.work(instruction)
            assert row.stitches == len(knitter.stitches)
        assert knitter.fastened_off


@each_mitre
def test_the_compact_form_is_worked_to_the_same_rows(mitre: Mitre) -> None:
    for stitches in SIDES:
        told = {
            row: stretch_words(stretch)
            for stretch in compact(stitches, mitre)
            for row in range(stretch.first, stretch.last + 1, 2)
        }
        full, short = (with_foundation(stitches, mitre) for _ in range(2))
        for number, instruction in enumerate(instructions(rows(stitches, mitre)), 1):
            full.work(instruction)
            short.work(told[number])
            assert short.needle == full.needle
        assert short.fastened_off


def test_the_first_and_the_last_rows_in_full() -> None:
    paired, centred = row_lines(20, Mitre.PAIRED), row_lines(20, Mitre.CENTRED)
    assert paired[:3] == (
        ("1", "WS", "wrong side", "k20, slip marker, k20", 40),
        ("2", "RS", "right side", "k18, k2tog, slip marker, ssk, k18", 38),
        ("3", "WS", "wrong side", "k19, slip marker, k19", 38),
    )
    assert [line.instruction for line in paired[-3:]] == [
        "k2tog, slip marker, ssk",
        "k1, slip marker, k1",
        "remove marker, k2tog, fasten off",
    ]
    assert [line.instruction for line in centred[:2]] == ["k41", "k19, cdd, k19"]
    assert [line.instruction for line in centred[-2:]] == ["k3", "cdd, fasten off"]


def test_the_compact_form_in_full() -> None:
    assert stretch_lines(20, Mitre.PAIRED) == (
        ("1", "WS", "wrong side", "k20, slip marker, k20", 40),
        (
            "2, 4 … 38",
            "RS",
            "right side",
            "knit to 2 before the marker, k2tog, slip marker, ssk, knit to the end "
            "(2 fewer each time)",
            2,
        ),
        (
            "3, 5 … 39",
            "WS",
            "wrong side",
            "knit to the marker, slip marker, knit to the end",
            2,
        ),
        ("40", "RS", "right side", "remove marker, k2tog, fasten off", 1),
    )
    assert [line.instruction for line in stretch_lines(20, Mitre.CENTRED)] == [
        "k41",
        "knit to 1 before the marked stitch, cdd, knit to the end (2 fewer each time)",
        "knit",
        "cdd, fasten off",
    ]


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
    knitter = with_foundation(20, Mitre.PAIRED)
    knitter.work("k20, slip marker, k20")
    with pytest.raises(Mistake):
        knitter.work(wrong)


def test_the_knitter_sees_a_decrease_beside_the_marked_stitch() -> None:
    knitter = with_foundation(20, Mitre.CENTRED)
    knitter.work("k41")
    with pytest.raises(Mistake):
        knitter.work("k18, cdd, k20")


def test_the_abbreviations_of_the_paired_mitre() -> None:
    assert glossary(Mitre.PAIRED) == {
        "RS": "right side",
        "WS": "wrong side",
        "k": "knit",
        "k2tog": "knit 2 stitches together",
        "ssk": "slip 2 stitches knitwise, singly; knit them together through the back loops",
        "slip marker": "move the marker over to the other needle",
    }


@pytest.mark.parametrize(("locale", "centred"), [("en-gb", "centred"), ("en-us", "centered")])
def test_the_abbreviations_of_the_centred_mitre_in_two_englishes(locale: str, centred: str) -> None:
    with translation.override(locale):
        assert glossary(Mitre.CENTRED) == {
            "RS": "right side",
            "WS": "wrong side",
            "k": "knit",
            "cdd": f"{centred} double decrease: slip 2 stitches together knitwise, knit 1, pass "
            "the slipped stitches over it; the stitch that is left is the marked one",
        }
