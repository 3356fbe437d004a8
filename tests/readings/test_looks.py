"""How a yarn looks: as chosen for the blanket, else as in the store, else as it is called."""

import pytest
from pytest_django import DjangoAssertNumQueries

from drives.craft.places import Place
from drives.models import Yarn
from drives.readings.board import board_of
from drives.readings.looks import looks_on, told_looks, yarn_looks
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import Desk
from tests.store import lay_colours, new_yarn

SUNSET, FIRST, SECOND, PINK = "#ff7733", "#112211", "#445544", "#de8fa5"


@pytest.fixture
def desk(cast: Cast, plan: Plan) -> Desk:
    """A1 in a yarn of the palette, B1 in one of the store, A2 in neither, B2 without a colour."""
    desk = plan()
    lay_colours(
        desk, cast.olga, {"Vera's sunset": SUNSET}, A1="Vera's sunset", B1="R42", A2="Dusty pink"
    )
    new_yarn(cast.cora, colour="R42", value=SECOND, dye_lot="2")
    new_yarn(cast.cora, colour="R42", value=FIRST, dye_lot="1")
    return desk


def test_what_was_told_counts_before_the_name() -> None:
    told = [("moss", FIRST), ("moss", SECOND), ("Teal", SUNSET)]
    assert told_looks(["Moss", "teal", "dusty pink", "R42"], told) == {
        "Moss": FIRST,
        "teal": SUNSET,
        "dusty pink": PINK,
    }


def test_the_palette_counts_before_the_store_and_its_first_dye_lot(desk: Desk, cast: Cast) -> None:
    assert yarn_looks(desk.blanket) == {"Vera's sunset": SUNSET, "R42": FIRST, "Dusty pink": PINK}
    lay_colours(desk, cast.cora, {"R42": "#abcdef", "Dusty pink": "#d00d1e"})
    assert yarn_looks(desk.blanket) == {"R42": "#abcdef", "Dusty pink": "#d00d1e"}


def test_yarn_of_another_circle_says_nothing(desk: Desk, cast: Cast) -> None:
    Yarn.objects.update(circle=cast.stan.memberships.get().circle)
    assert yarn_looks(desk.blanket) == {"Vera's sunset": SUNSET, "Dusty pink": PINK}


def test_each_square_has_the_look_of_its_yarn(
    desk: Desk, plan: Plan, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    board, bare = board_of(desk.blanket), board_of(plan().blanket)
    a1, b1, a2 = map(Place.parse, ("A1", "B1", "A2"))
    with django_assert_num_queries(1):
        assert looks_on(board) == {a1: SUNSET, b1: FIRST, a2: PINK}
    with django_assert_num_queries(0):
        assert looks_on(board, {"R42": SECOND}) == {b1: SECOND}
        assert looks_on(bare) == {}
