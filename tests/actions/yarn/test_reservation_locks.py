"""Two who want the same grams for their blankets: the second waits for the first."""

import pytest

from drives.actions.yarn.reservations import reserve_yarn
from drives.models import Reservation
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW
from tests.racing import RACES, while_open
from tests.store import Shelf, new_yarn

pytestmark = RACES


@pytest.fixture
def ball(cast: Cast) -> Shelf:
    return Shelf(new_yarn(cast.cora, 50), cast.cora)


def test_the_last_ball_is_reserved_once(cast: Cast, plan: Plan, ball: Shelf) -> None:
    first, second = (plan().blanket, plan().blanket)
    said = while_open(
        lambda: reserve_yarn(blanket=first, yarn=ball.yarn, grams=30, by=cast.cora, now=NOW),
        lambda: reserve_yarn(blanket=second, yarn=ball.yarn, grams=30, by=cast.olga, now=NOW),
    )
    assert said == "not-so-much-free 20"


def test_what_is_knitted_up_meanwhile_is_not_reserved(cast: Cast, plan: Plan, ball: Shelf) -> None:
    blanket = plan().blanket
    said = while_open(
        lambda: ball.knit_up(None, 30),
        lambda: reserve_yarn(blanket=blanket, yarn=ball.yarn, grams=30, by=cast.olga, now=NOW),
    )
    assert said == "not-so-much-free 20"


def test_a_count_takes_from_what_was_just_reserved(cast: Cast, plan: Plan, ball: Shelf) -> None:
    blanket = plan().blanket
    said = while_open(
        lambda: reserve_yarn(blanket=blanket, yarn=ball.yarn, grams=50, by=cast.cora, now=NOW),
        lambda: ball.count(None, 20),
    )
    assert said == "done"
    assert Reservation.objects.get().grams == 20
