"""What the maps say to those who do not see them."""

from drives.craft.layout.layout import Layout, Seam
from drives.craft.layout.plan import plan
from drives.craft.layout.states import State
from drives.craft.places import Place
from drives.drawing.legend import legend
from drives.words.map import MEANINGS, SIGNS, boundary_words, place_words, square_words

A1, B1, A2, B2 = Place(1, 1), Place(2, 1), Place(1, 2), Place(2, 2)
THREE = plan(Layout(3, 3, 20))


def test_a_square_in_words() -> None:
    assert square_words(THREE, A1, State.FINISHED) == "A1, finished, joins onto nothing"
    assert square_words(THREE, A2, State.READY) == "A2, ready, joins onto A1"
    assert square_words(THREE, B2, State.WAITING) == "B2, waiting, joins onto A2 and B1"


def test_who_has_a_square_its_piece_and_that_it_is_late() -> None:
    told = square_words(THREE, A2, State.TAKEN, holder="Vera", piece="A1", late=True)
    assert told == "A2, taken, joins onto A1, with Vera, in piece A1, late"


def test_places_and_boundaries_of_the_planner() -> None:
    layout = Layout(2, 2, 20, missing=frozenset({B2}), seams=frozenset({Seam(A1, B1)}))
    assert (place_words(layout, A1), place_words(layout, B2)) == ("A1", "B2, missing")
    assert boundary_words(layout, A1, B1) == "Between A1 and B1: a seam"
    assert boundary_words(layout, A1, A2) == "Between A1 and A2: joined"


def test_every_sign_of_the_legend_has_a_name_and_a_meaning() -> None:
    keys = [sign.key for sign in legend(tuple(MEANINGS))]
    assert keys == list(MEANINGS)
    assert set(SIGNS) == {*keys, "empty", "yarn"}
    assert str(MEANINGS["seam"]) == "seam: not joined, sewn at the end"
