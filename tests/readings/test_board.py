"""The board: one reading of a blanket, as the actions left it."""

import pytest
from pytest_django import DjangoAssertNumQueries

from drives.craft.places import Place
from drives.models import Blanket
from drives.readings.board import board_of
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, places


def test_it_tells_the_state_of_every_square(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    claim = desk.claim("B1", cast.vera)
    board = board_of(desk.blanket)
    assert {str(place): state.value for place, state in board.state_of.items()} == {
        "A1": "finished",
        "B1": "taken",
        "A2": "ready",
        "B2": "waiting",
    }
    assert board.claims == {Place.parse("B1"): claim}
    assert [offer.place for offer in board.offers] == list(places("A2"))
    assert list(board.late(NOW + 14 * DAY)) == []
    assert list(board.late(NOW + 15 * DAY)) == [claim]


def test_a_hundred_per_cent_is_all_of_it(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 1)
    shown = [board_of(desk.blanket).percent]
    for name in ("A1", "B1", "C1"):
        desk.knit(name, cast.vera)
        shown.append(board_of(desk.blanket).percent)
    assert shown == [0, 33, 66, 100]


@pytest.mark.parametrize("side", [2, 20])
def test_it_costs_the_same_queries_at_every_size(
    cast: Cast, plan: Plan, side: int, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    desk = plan(side, side)
    desk.knit("A1 A2", cast.vera)
    desk.claim("B1", cast.vera)
    blanket = Blanket.objects.get()
    with django_assert_num_queries(2):
        assert len(board_of(blanket).state_of) == side * side


def test_the_revision_changes_with_every_event(cast: Cast, plan: Plan) -> None:
    desk = plan()
    seen = {desk.blanket.revision()}
    desk.claim("A1", cast.vera)
    seen.add(desk.blanket.revision())
    desk.finish("A1", cast.vera)
    seen.add(desk.blanket.revision())
    assert len(seen) == 3
    assert desk.blanket.revision() in seen
