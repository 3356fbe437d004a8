"""Who could begin what next. Common practice: one each before anybody gets a second."""

from collections.abc import Set

from hypothesis import given, settings
from hypothesis import strategies as st

from drives.craft.layout.spread import spread
from drives.craft.places import Place

A1, B1, C1, D1 = (Place(column, 1) for column in range(1, 5))
NONE: dict[Place, Set[str]] = {}


def test_one_each_before_a_second_the_best_to_the_first() -> None:
    room = {"Ada": 2, "Ben": 1}
    assert spread([A1, B1, C1, D1], room, pieces=NONE, at_work={}) == {"Ada": [A1, C1], "Ben": [B1]}


def test_who_has_no_room_is_passed_over_but_named() -> None:
    assert spread([A1], {"Ada": 0, "Ben": 1}, pieces=NONE, at_work={}) == {"Ada": [], "Ben": [A1]}


def test_who_has_the_piece_goes_before_who_would_have_to_get_it() -> None:
    found = spread(
        [A1, B1],
        {"Ada": 2, "Ben": 2},
        pieces={A1: {"P"}, B1: {"Q"}},
        at_work={},
        most=1,
        holders={"P": "Ben", "Q": None},
    )
    assert found == {"Ada": [B1], "Ben": [A1]}


def test_a_piece_has_no_more_knitters_than_find_room() -> None:
    room = {"Ada": 2, "Ben": 2}
    pieces: dict[Place, Set[str]] = {A1: {"P"}, B1: {"P"}, C1: {"P", "Q"}}
    alone = spread([A1, B1, C1], room, pieces=pieces, at_work={}, most=1)
    assert alone == {"Ada": [A1, B1], "Ben": []}
    two = spread([A1, B1, C1], room, pieces=pieces, at_work={}, most=2)
    assert two == {"Ada": [A1, C1], "Ben": [B1]}
    taken = spread([A1, B1, C1], room, pieces=pieces, at_work={"P": {"Cat"}}, most=1)
    assert taken == {"Ada": [], "Ben": []}


def test_a_square_on_two_pieces_needs_both() -> None:
    pieces: dict[Place, Set[str]] = {A1: {"P", "Q"}}
    at_work = {"P": {"Ada"}, "Q": {"Ben"}}
    nobody = spread([A1], {"Ada": 1, "Ben": 1}, pieces=pieces, at_work=at_work, most=1)
    assert nobody == {"Ada": [], "Ben": []}


@settings(max_examples=50, deadline=None)
@given(
    st.integers(0, 12),
    st.dictionaries(st.integers(0, 5), st.integers(0, 4)),
    st.lists(st.frozensets(st.integers(0, 3), max_size=2), min_size=12, max_size=12),
    st.none() | st.integers(1, 3),
)
def test_keeps_to_every_limit(
    count: int, room: dict[int, int], under: list[frozenset[int]], most: int | None
) -> None:
    places = [Place(number, 1) for number in range(1, count + 1)]
    pieces = dict(zip(places, under, strict=False))
    found = spread(places, room, pieces=pieces, at_work={}, most=most)
    told = [place for squares in found.values() for place in squares]
    assert len(set(told)) == len(told)
    assert found.keys() == room.keys()
    for knitter, squares in found.items():
        assert len(squares) <= room[knitter]
        assert squares == sorted(squares)
    for piece in range(4):
        on_it = {who for who, squares in found.items() for at in squares if piece in pieces[at]}
        assert most is None or len(on_it) <= most
    if most is None:
        assert len(told) == min(count, sum(room.values()))
