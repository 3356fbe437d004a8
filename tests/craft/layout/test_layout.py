"""What is wrong with a layout. TRADE.md, section 4."""

import pytest

from drives.craft.layout.layout import Fault, InvalidLayout, Large, Layout, Problem, Seam, problems
from drives.craft.layout.plan import plan
from drives.craft.places import Place

A1, B1, C1, A2, B2 = Place(1, 1), Place(2, 1), Place(3, 1), Place(1, 2), Place(2, 2)


def fields(layout: Layout) -> list[str]:
    return [problem.field for problem in problems(layout)]


def three(
    *, missing: set[Place] | None = None, large: set[Large] | None = None,
    seams: set[Seam] | None = None,
) -> Layout:  # fmt: skip
    return Layout(
        columns=3,
        rows=3,
        stitches=20,
        missing=frozenset(missing or ()),
        large=frozenset(large or ()),
        seams=frozenset(seams or ()),
    )


@pytest.mark.parametrize(
    ("columns", "rows", "stitches"), [(1, 1, 2), (150, 1, 200), (1, 150, 20), (150, 150, 2)]
)
def test_the_limits_themselves_are_allowed(columns: int, rows: int, stitches: int) -> None:
    assert problems(Layout(columns, rows, stitches)) == []


@pytest.mark.parametrize("beyond", [0, -1, 151])
def test_grids_beyond_the_limits(beyond: int) -> None:
    facts = {"low": 1, "high": 150}
    columns, rows = Layout(beyond, 3, 20), Layout(3, beyond, 20)
    assert problems(columns) == [Problem("columns", Fault.OUT_OF_RANGE, facts)]
    assert problems(rows) == [Problem("rows", Fault.OUT_OF_RANGE, facts)]


@pytest.mark.parametrize("beyond", [1, 0, 201])
def test_stitches_beyond_the_limits(beyond: int) -> None:
    assert problems(Layout(3, 3, beyond)) == [
        Problem("stitches", Fault.OUT_OF_RANGE, {"low": 2, "high": 200}),
    ]


def test_all_three_limits_are_told_at_once_and_nothing_else() -> None:
    layout = Layout(0, 151, 1, missing=frozenset({Place(9, 9)}))
    assert fields(layout) == ["columns", "rows", "stitches"]


def test_missing_places_lie_within_the_blanket() -> None:
    assert problems(three(missing={Place(3, 3), Place(4, 1), Place(1, 4)})) == [
        Problem("missing", Fault.MISSING_OUTSIDE, {"place": Place(1, 4)}),
        Problem("missing", Fault.MISSING_OUTSIDE, {"place": Place(4, 1)}),
    ]
    assert len(problems(three(missing={Place(0, 1), Place(1, 0)}))) == 2


def test_not_every_place_can_be_missing() -> None:
    everything = {Place(column, row) for column in (1, 2, 3) for row in (1, 2, 3)}
    assert problems(three(missing=everything)) == [Problem("missing", Fault.NOTHING_LEFT, {})]
    assert problems(three(missing=everything - {B2})) == []


@pytest.mark.parametrize("size", [0, -1, 11])
def test_large_squares_have_1_to_10_units(size: int) -> None:
    assert problems(three(large={Large(A1, size)})) == [
        Problem("large", Fault.LARGE_SIZE, {"place": A1, "low": 1, "high": 10}),
    ]


@pytest.mark.parametrize("size", [1, 10])
def test_the_smallest_and_the_largest_size(size: int) -> None:
    assert problems(Layout(10, 10, 20, large=frozenset({Large(A1, size)}))) == []


@pytest.mark.parametrize("at", [Place(3, 1), Place(1, 3), Place(4, 4)])
def test_large_squares_lie_within_the_blanket(at: Place) -> None:
    assert problems(three(large={Large(at, 2)})) == [
        Problem("large", Fault.LARGE_OUTSIDE, {"place": at, "size": 2}),
    ]


def test_a_missing_place_inside_a_large_square() -> None:
    assert problems(three(large={Large(A1, 2)}, missing={B2, A1, C1})) == [
        Problem("large", Fault.LARGE_MISSING, {"unit": A1, "place": A1}),
        Problem("large", Fault.LARGE_MISSING, {"unit": B2, "place": A1}),
    ]


def test_overlapping_squares_are_named_in_pairs() -> None:
    def overlap(other: Place, place: Place) -> Problem:
        return Problem("large", Fault.LARGE_OVERLAP, {"other": other, "place": place})

    assert problems(three(large={Large(A1, 2), Large(B2, 2)})) == [overlap(A1, B2)]
    assert problems(three(large={Large(A1, 2), Large(A2, 2), Large(B1, 2)})) == [
        overlap(A1, A2),
        overlap(A1, B1),
        overlap(A2, B1),
    ]


def test_a_crowd_of_large_squares_is_judged_no_further_than_it_takes() -> None:
    at_every_place = {Place(column, row) for column in range(1, 142) for row in range(1, 142)}
    crowd = frozenset(Large(at, 10) for at in at_every_place)
    found = problems(Layout(150, 150, 20, large=crowd))
    # 226 squares of 100 units are more than 150 × 150, in the order of columns and rows.
    assert found[0] == Problem("large", Fault.LARGE_OVERLAP, {"other": A1, "place": A2})
    assert {facts["place"] for _, _, facts in found} < set(sorted(at_every_place)[:226])


def test_two_sizes_at_one_place() -> None:
    assert problems(three(large={Large(A1, 2), Large(A1, 3)})) == [
        Problem("large", Fault.LARGE_TWICE, {"other": A1, "place": A1}),
    ]


def test_seams_lie_within_the_blanket() -> None:
    for one, other in ((C1, Place(4, 1)), (Place(1, 0), A1)):
        assert problems(three(seams={Seam(one, other)})) == [
            Problem("seams", Fault.SEAM_OUTSIDE, {"one": one, "other": other}),
        ]


@pytest.mark.parametrize(("one", "other"), [(A1, B2), (A1, C1), (B1, B1), (A2, B1)])
def test_seams_lie_between_neighbours(one: Place, other: Place) -> None:
    assert problems(three(seams={Seam(one, other)})) == [
        Problem("seams", Fault.SEAM_APART, {"one": one, "other": other}),
    ]


def test_no_seam_cuts_a_square() -> None:
    seams = {Seam(A1, B1), Seam(A1, A2), Seam(B1, C1)}
    assert problems(three(large={Large(A1, 2)}, seams=seams)) == [
        Problem("seams", Fault.SEAM_INSIDE, {"one": A1, "other": A2, "square": A1}),
        Problem("seams", Fault.SEAM_INSIDE, {"one": A1, "other": B1, "square": A1}),
    ]


def test_a_seam_beside_a_missing_place_does_no_harm() -> None:
    assert problems(three(missing={B1}, seams={Seam(A1, B1)})) == []


def test_a_seam_is_the_same_from_either_side() -> None:
    assert Seam.between(B1, A1) == Seam.between(A1, B1) == Seam(A1, B1)
    assert Seam.between(A2, A1) == Seam(A1, A2)


def test_all_that_is_wrong_is_told_at_once() -> None:
    layout = three(
        missing={Place(9, 9)},
        large={Large(A1, 12), Large(B2, 3)},
        seams={Seam(A1, C1)},
    )
    assert fields(layout) == ["missing", "large", "large", "seams"]


def test_a_layout_that_cannot_be_knitted_is_not_planned() -> None:
    with pytest.raises(InvalidLayout) as refused:
        plan(three(missing={Place(4, 4)}, seams={Seam(A1, B2)}))
    assert str(refused.value) == "missing-outside, seam-apart"
    assert [problem.field for problem in refused.value.problems] == ["missing", "seams"]


def test_a_square_of_one_unit_given_as_large_is_an_ordinary_one() -> None:
    plain, told = plan(three()), plan(three(large={Large(B2, 1)}))
    assert told.size == plain.size
    assert all(told.foundation(place) == plain.foundation(place) for place in plain.places)
