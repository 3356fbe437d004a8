"""What is wrong with a layout, in a knitter's words."""

import pytest

from drives.craft.layout.layout import Large, Layout, Seam, problems
from drives.craft.places import Place
from drives.words.layout import problem_words

A1, B1, C1, D1 = (Place(column, 1) for column in (1, 2, 3, 4))
A2, B2 = Place(1, 2), Place(2, 2)
EVERYTHING = frozenset(Place(column, row) for column in (1, 2, 3) for row in (1, 2, 3))


def three(
    *, missing: frozenset[Place] = frozenset(), large: set[Large] | None = None,
    seams: set[Seam] | None = None,
) -> Layout:  # fmt: skip
    return Layout(
        3, 3, 20, missing=missing, large=frozenset(large or ()), seams=frozenset(seams or ())
    )


@pytest.mark.parametrize(
    ("layout", "sentence"),
    [
        (Layout(0, 3, 20), "The number of columns must be from 1 to 150."),
        (Layout(3, 151, 20), "The number of rows must be from 1 to 150."),
        (Layout(3, 3, 1), "The stitches along one side must be from 2 to 200."),
        (three(missing=frozenset({D1})), "D1 lies outside the blanket."),
        (three(missing=EVERYTHING), "Every place is missing; leave at least one square to knit."),
        (three(large={Large(A1, 11)}), "The square at A1 must be from 1 to 10 units wide."),
        (
            three(large={Large(C1, 2)}),
            "The square at C1, 2 units wide, reaches outside the blanket.",
        ),
        (
            three(large={Large(A1, 2)}, missing=frozenset({B2})),
            "B2 is a missing place inside the large square at A1.",
        ),
        (three(large={Large(A1, 2), Large(A1, 3)}), "Two squares begin at A1."),
        (three(large={Large(A1, 2), Large(B2, 2)}), "The squares at A1 and B2 overlap."),
        (three(seams={Seam(C1, D1)}), "The seam between C1 and D1 lies outside the blanket."),
        (
            three(seams={Seam(A1, B2)}),
            "A1 and B2 are not neighbours, so no seam lies between them.",
        ),
        (
            three(large={Large(A1, 2)}, seams={Seam(A1, B1)}),
            "A1 and B1 are parts of one square (A1); no seam can cut it.",
        ),
    ],
)
def test_each_problem_is_told_in_a_sentence(layout: Layout, sentence: str) -> None:
    (problem,) = problems(layout)
    assert problem_words(problem) == sentence
