"""A plan that is made anew while somebody chooses, claims or paints."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from drives.actions.colours.by_hand import colour_squares
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW, Desk, places
from tests.racing import RACES, while_open

from .test_plans import BANDS, CREAM, MOSS, apart, choose, colours, make

pytestmark = RACES


@pytest.fixture
def desk(cast: Cast, plan: Plan) -> Desk:
    desk = plan(3, 3)
    make(desk, cast)
    desk.claim("A1", cast.vera)
    return desk


def test_a_plan_keeps_what_was_chosen_just_before(desk: Desk, cast: Cast) -> None:
    said = while_open(lambda: choose(desk, "A1", "cream", by=cast.vera), lambda: make(desk, cast))
    assert (said, colours(desk)["A1"]) == ("done", "cream")
    assert apart(desk)


def test_a_choice_waits_for_the_plan_and_asks_it(desk: Desk, cast: Cast) -> None:
    asked = BANDS._replace(palette=(MOSS, CREAM))
    said = while_open(
        lambda: make(desk, cast, asked), lambda: choose(desk, "A1", "rust", by=cast.vera)
    )
    assert said == "not-in-palette moss cream"
    assert apart(desk)


def test_two_who_choose_at_once(desk: Desk, cast: Cast) -> None:
    """The second one's repair goes around the first one's choice."""
    desk.finish("A1", cast.vera)
    desk.claim("A2", cast.vera)
    desk.claim("B1", cast.olga)
    said = while_open(
        lambda: choose(desk, "A2", "cream", by=cast.vera),
        lambda: choose(desk, "B1", "cream", by=cast.olga),
    )
    assert said == "done"
    assert (colours(desk)["A2"], colours(desk)["B1"]) == ("cream", "cream")
    assert apart(desk)


def test_what_is_claimed_waits_for_the_plan(desk: Desk, cast: Cast) -> None:
    desk.finish("A1", cast.vera)
    said = while_open(
        lambda: make(desk, cast, BANDS._replace(palette=(CREAM, MOSS))),
        lambda: desk.claim("B1", cast.olga),
    )
    assert said == "done"
    assert apart(desk)


def test_paint_that_dries_while_a_plan_is_made(desk: Desk, cast: Cast) -> None:
    given = dict.fromkeys(places("C3"), "moss")
    said = while_open(
        lambda: make(desk, cast),
        lambda: colour_squares(blanket=desk.blanket, by=cast.cora, colours=given, now=NOW),
    )
    assert (said, colours(desk)["C3"]) == ("done", "moss")


def test_the_search_holds_no_lock(desk: Desk, cast: Cast) -> None:
    """It can take seconds: the yarn that it is about is read before the first lock."""
    with CaptureQueriesContext(connection) as seen:
        make(desk, cast)
    said = [each["sql"] for each in seen.captured_queries]
    locked = next(number for number, sql in enumerate(said) if "FOR NO KEY UPDATE" in sql)
    assert any('"drives_yarn"' in sql for sql in said[:locked])
