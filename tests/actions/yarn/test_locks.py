"""Two who want the same grams: the first keeps its transaction open, the second comes."""

from typing import Any

import pytest

from drives.actions.yarn.store import change_yarn
from drives.models import Yarn
from tests.cast import Cast
from tests.desk import NOW
from tests.racing import RACES, while_open
from tests.store import FACTS, Shelf, new_yarn

pytestmark = RACES


@pytest.fixture
def ball(cast: Cast) -> Shelf:
    """The last ball of navy."""
    return Shelf(new_yarn(cast.cora, 50), cast.cora)


def test_the_last_ball_is_handed_out_once(ball: Shelf, cast: Cast) -> None:
    said = while_open(
        lambda: ball.hand_out(cast.vera, 50), lambda: ball.hand_out(cast.paul, 50, by=cast.olga)
    )
    assert said == "not-so-much-yarn 0"
    assert (ball.stored, ball.hands()) == (0, {"Vera": 50})


def test_what_is_brought_back_while_it_is_knitted_up(ball: Shelf, cast: Cast) -> None:
    ball.hand_out(cast.vera, 50)
    said = while_open(
        lambda: ball.take_back(cast.vera, 30), lambda: ball.knit_up(cast.vera, 30, by=cast.vera)
    )
    assert said == "not-so-much-yarn 20"


def test_a_count_waits_for_what_is_being_handed_out(ball: Shelf, cast: Cast) -> None:
    said = while_open(lambda: ball.hand_out(cast.vera, 20), lambda: ball.count(None, 28))
    assert said == "done"
    assert ball.lines()[-1] == ("counted", -2, 0)


def test_a_button_pressed_twice_at_once(ball: Shelf, cast: Cast) -> None:
    said = while_open(
        lambda: ball.hand_out(cast.vera, 20, seen=0), lambda: ball.hand_out(cast.vera, 20, seen=0)
    )
    assert said == "done"
    assert ball.hands() == {"Vera": 20}


def test_two_who_note_the_same_yarn(ball: Shelf, cast: Cast) -> None:
    said = while_open(
        lambda: new_yarn(cast.cora, dye_lot="12"), lambda: new_yarn(cast.olga, dye_lot="12")
    )
    assert said == f"yarn-is-there {Yarn.objects.get(dye_lot='12').pk}"


def test_a_change_of_what_is_known_keeps_the_grams(ball: Shelf, cast: Cast) -> None:
    moved: Any = FACTS | {"place": "The hall"}
    said = while_open(
        lambda: ball.hand_out(cast.vera, 20),
        lambda: change_yarn(yarn=ball.yarn, by=cast.olga, now=NOW, **moved),
    )
    assert (said, ball.stored) == ("done", 30)
