"""Weighing and measuring, while something else is done that is not committed yet."""

from decimal import Decimal

import pytest

from drives.actions.squares.measurements import Measured, measure_square
from drives.actions.squares.weights import weigh_square
from drives.models import Measurement
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW, Desk
from tests.racing import RACES, while_open

pytestmark = RACES

CM = Decimal(11)
LOOSE = Measured(20, CM, 20, CM, None)


def on_scale(desk: Desk, cast: Cast, grams: int) -> object:
    return weigh_square(square=desk.square("A1"), by=cast.vera, grams=Decimal(grams), now=NOW)


def under_tape(desk: Desk, cast: Cast, square: str = "") -> object:
    return measure_square(
        blanket=desk.blanket,
        member=cast.vera,
        by=cast.vera,
        square=desk.square(square) if square else None,
        measured=LOOSE,
        now=NOW,
    )


def test_a_square_that_is_being_ripped_back_is_not_weighed(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    said = while_open(lambda: desk.rip_back("A1", cast.cora), lambda: on_scale(desk, cast, 8))
    assert said == "not-finished"
    assert desk.square("A1").grams is None


def test_the_last_of_two_weights_counts(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    said = while_open(lambda: on_scale(desk, cast, 80), lambda: on_scale(desk, cast, 8))
    assert said == "done"
    assert desk.square("A1").grams == 8


@pytest.mark.parametrize("square", ["A1", ""])
def test_measured_twice_at_once_is_measured_once(cast: Cast, plan: Plan, square: str) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    said = while_open(
        lambda: under_tape(desk, cast, square), lambda: under_tape(desk, cast, square)
    )
    assert said == "done"
    assert Measurement.objects.count() == 1
    assert desk.verbs() == ["claimed", "finished", "measured"]
