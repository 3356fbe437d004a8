"""Marks on the grid, as they are typed and pressed."""

import pytest

from drives.craft.layout.layout import Large, Seam
from drives.craft.places import Place
from drives.pages.planning.notation import Notation, UnreadableNotation

A1, B1, A2, B2 = (Place.parse(name) for name in ("A1", "B1", "A2", "B2"))
GRID = (3, 3)


def read(**texts: str) -> Notation:
    return Notation.read(texts, GRID)


def test_marks_are_read_as_people_type_them() -> None:
    found = read(missing="b2, C3;A1", large="a1x2", seams="A1-B1 b2|a2")
    assert found.missing == {B2, Place(3, 3), A1}
    assert found.large == {Large(A1, 2)}
    assert found.seams == {Seam(A1, B1), Seam(A2, B2)}


def test_a_whole_line_is_every_seam_along_it() -> None:
    assert read(seams="A–B").seams == {Seam(Place(1, row), Place(2, row)) for row in (1, 2, 3)}
    assert read(seams="2–3").seams == {Seam(Place(col, 2), Place(col, 3)) for col in (1, 2, 3)}


def test_a_part_of_a_line() -> None:
    grid = (6, 6)

    def seams(text: str, large: str = "") -> frozenset[Seam]:
        return Notation.read({"seams": text, "large": large}, grid).seams

    upright = [Seam(Place(2, row), Place(3, row)) for row in range(1, 7)]
    level = [Seam(Place(column, 3), Place(column, 4)) for column in range(1, 7)]
    assert seams("B–C:2–5") == set(upright[1:5])
    assert seams("b-c:5-2") == set(upright[1:5])
    assert seams("3–4:A–B") == set(level[:2])
    assert seams("3–4:F–F") == set(level[5:])
    assert seams("B–C:1–4", "B2×2") == {upright[0], upright[3]}
    found = Notation(seams=frozenset(upright[1:4] + level[:3] + level[4:]))
    assert found.texts(grid)["seams"] == "B–C:2–4 3–4:A–C E3–E4 F3–F4"


def test_a_whole_line_does_not_cut_a_large_square() -> None:
    assert read(large="A1×2", seams="A–B").seams == {Seam(Place(1, 3), Place(2, 3))}


@pytest.mark.parametrize(
    "texts",
    [
        {"missing": "A1 C3", "large": "", "seams": "A–B"},
        {"missing": "", "large": "A1×2", "seams": "A–B B1–C1"},
        {"missing": "", "large": "A1×2 C3×3", "seams": "1–2 A1–B1"},
        {"missing": "", "large": "B2×2", "seams": "A–B:1–1 1–2:C–C A–B:2–3"},
    ],
)
def test_what_is_written_reads_back_the_same(texts: dict[str, str]) -> None:
    marks = Notation.read(texts, GRID)
    assert Notation.read(marks.texts(GRID), GRID) == marks


def test_a_line_is_written_as_one_word() -> None:
    line = frozenset(Seam(Place(1, row), Place(2, row)) for row in (1, 2, 3))
    assert Notation(seams=line).texts(GRID)["seams"] == "A–B"


def test_a_seam_inside_a_large_square_is_written_as_it_is() -> None:
    marks = Notation(large=frozenset({Large(A1, 3)}), seams=frozenset({Seam(A1, B1)}))
    assert marks.texts(GRID)["seams"] == "A1–B1"


@pytest.mark.parametrize("word", ["B2", "A1×2", "A1–B1"])
def test_a_mark_pressed_twice_is_gone(word: str) -> None:
    none = Notation()
    once = none.toggled(word)
    assert once != none
    assert once.toggled(word) == none


@pytest.mark.parametrize(
    ("field", "word"),
    [
        ("missing", "B0"),
        ("missing", "hole"),
        ("large", "A1"),
        ("large", "A1×x"),
        ("seams", "A1"),
        ("seams", "A–C"),
        ("seams", "3–4"),
        ("seams", "A–B:4–4"),
        ("seams", "A–B:A–C"),
        ("seams", "1–2:1–2"),
        ("seams", "A–B:0–2"),
        ("seams", "A1–B1:1–2"),
        ("seams", "A1–9"),
        ("seams", "ſ–T"),
        ("large", "A1×150 A2×2"),
    ],
)
def test_what_is_no_mark_is_named_with_its_field(field: str, word: str) -> None:
    with pytest.raises(UnreadableNotation) as wrong:
        read(**{field: word})
    assert wrong.value.field == field
    assert len(str(wrong.value)) > 10
