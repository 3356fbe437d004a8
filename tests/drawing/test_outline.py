"""Outlines of pieces: closed lines along their boundary, just inside, each with its name."""

import itertools
from collections.abc import Collection

import pytest
from hypothesis import given

from drives.craft.layout.layout import Large, Layout
from drives.craft.layout.plan import plan
from drives.craft.layout.states import State
from drives.craft.places import Place
from drives.drawing import map_svg
from drives.drawing.looks import UNIT
from drives.drawing.outline import INSET

from .boards import Board, boards, often
from .reading import Point, all_of, lines, outside, read


def places(names: str) -> list[Place]:
    return [Place.parse(name) for name in names.split()]


def loops(layout: Layout, *pieces: Collection[Place]) -> list[list[Point]]:
    """The outlines in a map in which every square is finished."""
    thought = plan(layout)
    state_of = dict.fromkeys(thought.places, State.FINISHED)
    named = {str(piece[0]): piece for piece in map(list, pieces)}
    root = read(map_svg(thought, state_of, title="Map", pieces=named))
    found = []
    for group in all_of(root, "g", "piece"):
        casing, ink, core = all_of(group, "path")
        assert lines(casing) == lines(ink) == lines(core)
        found += lines(ink)
    return found


def length(loop: list[Point]) -> float:
    return sum(abs(x - to_x) + abs(y - to_y) for (x, y), (to_x, to_y) in itertools.pairwise(loop))


def area(loop: list[Point]) -> float:
    """Twice the signed area (the shoelace formula): positive when it runs clockwise on screen."""
    return sum(x * to_y - to_x * y for (x, y), (to_x, to_y) in itertools.pairwise(loop))


def test_a_single_square_is_framed() -> None:
    (loop,) = loops(Layout(2, 1, 20), places("A1"))
    assert loop[0] == loop[-1]
    assert length(loop) == 4 * (UNIT - 2 * INSET)


@pytest.mark.parametrize(("names", "bends"), [("A1 B1", 4), ("A1 B1 A2", 6), ("A1 B1 A2 B2", 4)])
def test_no_line_runs_between_squares_of_one_piece(names: str, bends: int) -> None:
    (loop,) = loops(Layout(3, 3, 20), places(names))
    assert len(loop) == bends + 1


def test_a_hole_has_an_outline_of_its_own_in_the_piece() -> None:
    missing = frozenset(places("B2"))
    layout = Layout(3, 3, 20, missing=missing)
    around, hole = sorted(loops(layout, plan(layout).places), key=length, reverse=True)
    assert length(around) == 4 * (3 * UNIT - 2 * INSET)
    assert length(hole) == 4 * (UNIT + 2 * INSET)
    assert area(around) > 0 > area(hole)


def test_squares_that_touch_in_a_corner_alone_are_not_drawn_together() -> None:
    found = loops(Layout(2, 2, 20), places("A1 B2"))
    assert [length(loop) for loop in found] == [4 * (UNIT - 2 * INSET)] * 2


def test_a_large_square_counts_with_all_its_units() -> None:
    large = frozenset([Large(Place(1, 1), 2)])
    (loop,) = loops(Layout(3, 2, 20, large=large), places("A1 C1"))
    assert len(loop) == 6 + 1


def test_neighbours_do_not_share_a_line() -> None:
    one, other = loops(Layout(2, 1, 20), places("A1"), places("B1"))
    assert max(x for x, _y in one) + 2 * INSET == min(x for x, _y in other)


@often
@given(boards())
def test_area_of_the_outlines_is_that_of_the_pieces(shown: Board) -> None:
    thought = shown.plan
    finished = [place for place in thought.places if shown.state_of[place] == State.FINISHED]
    pieces = thought.pieces(among=finished)
    named = {str(min(piece)): piece for piece in pieces}
    root = read(map_svg(thought, shown.state_of, title="Map", pieces=named))

    assert not outside(root)
    assert len(all_of(root, "g", "piece")) == len(pieces)
    for piece, group in zip(named.values(), all_of(root, "g", "piece"), strict=True):
        drawn = lines(all_of(group, "path")[1])
        units = sum(thought.size[place] ** 2 for place in piece)
        # Steiner: moved inwards by d, an area loses d times the length, and regains the corners.
        moved = sum(area(loop) / 2 + INSET * length(loop) for loop in drawn)
        corners = 4 * INSET**2 * sum(1 if area(loop) > 0 else -1 for loop in drawn)
        assert moved + corners == pytest.approx(units * UNIT**2)


def test_names_are_told_once_each_and_leave_the_squares_names() -> None:
    thought = plan(Layout(3, 1, 20))
    state_of = dict.fromkeys(thought.places, State.FINISHED)
    root = read(
        map_svg(
            thought,
            state_of,
            title="Map",
            link=lambda place: f"/{place}/",
            pieces={"A1": places("A1 B1"), "Z9": places("C1")},
        )
    )
    tags = ["".join(tag.itertext()) for tag in all_of(root, "g", "piece-name")]
    assert tags == ["A1", "Z9"]
