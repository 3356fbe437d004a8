"""Names of places. TRADE.md, section 4."""

import doctest

import pytest

from drives.craft import places
from drives.craft.places import LIMIT, NoPlace, Place, Wrong


@pytest.mark.parametrize(
    ("name", "place"),
    [
        ("A1", Place(1, 1)),
        ("C4", Place(3, 4)),  # the third column, the fourth row up
        ("Z150", Place(26, 150)),
        ("AA1", Place(27, 1)),
        ("AB10", Place(28, 10)),
        ("AZ9", Place(52, 9)),
        ("BA2", Place(53, 2)),
        ("ET150", Place(150, 150)),
    ],
)
def test_a_place_is_named_as_on_a_chess_board(name: str, place: Place) -> None:
    assert str(place) == name
    assert Place.parse(name) == place


def test_every_place_is_read_back_from_its_name() -> None:
    every = [Place(column, row) for column in range(1, LIMIT + 1) for row in range(1, LIMIT + 1)]
    assert [Place.parse(str(place)) for place in every] == every


@pytest.mark.parametrize("name", ["c4", " C4 ", "c4\n"])
def test_a_name_is_read_as_people_type_it(name: str) -> None:
    assert Place.parse(name) == Place(3, 4)


@pytest.mark.parametrize(
    "name",
    [
        "",
        "4C",
        "C",
        "4",
        "C0",
        "C04",
        "C4.5",
        "C-4",
        "AAA1",
        "C1000",
        "Ä4",
        "C٤",
        "C4 D5",
        "ſ1",
        "ß1",
        "ﬀ1",
    ],
)
def test_other_names_are_refused(name: str) -> None:
    with pytest.raises(NoPlace) as refused:
        Place.parse(name)
    assert (refused.value.wrong, refused.value.name) == (Wrong.NOT_A_NAME, name)


@pytest.mark.parametrize(("typed", "name"), [("eu1", "EU1"), ("A151", "A151"), ("ZZ999", "ZZ999")])
def test_places_beyond_the_largest_blanket_are_refused(typed: str, name: str) -> None:
    with pytest.raises(NoPlace) as refused:
        Place.parse(typed)
    assert (refused.value.wrong, refused.value.name) == (Wrong.TOO_FAR, name)


def test_the_examples_in_the_documentation_are_true() -> None:
    failed, tried = doctest.testmod(places)
    assert failed == 0
    assert tried >= 2
