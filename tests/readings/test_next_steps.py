"""What is proposed to whoever has a piece, as its drive passes pieces on."""

import pytest

from drives.craft.forecast.passing import Passing, Step
from drives.models import Meeting
from drives.readings.board import board_of
from drives.readings.next_steps import NextStep, next_steps
from drives.readings.whereabouts import whereabouts
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk, places, seams

TODAY = NOW.date()


def step(desk: Desk) -> NextStep:
    """Of the one piece that somebody has."""
    board = board_of(desk.blanket)
    (found,) = next_steps([board], whereabouts(board), TODAY).values()
    return found


@pytest.mark.parametrize("passing", Passing)
def test_with_nobody_in_line_its_holder_goes_on(cast: Cast, plan: Plan, passing: Passing) -> None:
    desk = plan(2, 2, mode="travelling", passing=passing.value)
    desk.knit("A1", cast.vera)
    found = step(desk)
    assert (found.do, set(found.squares), found.receiver) == (
        Step.BEGIN,
        set(places("A2 B1")),
        None,
    )
    desk.claim("A2", cast.vera)
    assert (step(desk).do, step(desk).squares) == (Step.FINISH, tuple(places("A2")))


def test_who_waits_gets_it_by_the_choice_of_the_drive(cast: Cast, plan: Plan) -> None:
    desk = plan(2, 1, mode="travelling")
    desk.knit("A1", cast.vera)
    desk.ask("B1", cast.olga)
    drive = desk.blanket.drive
    Meeting.objects.create(drive=drive, day=TODAY + 3 * DAY)
    found = step(desk)
    assert (found.do, found.receiver, found.day) == (Step.GIVE, cast.olga, None)
    drive.passing = Passing.MEET
    found = step(desk)
    assert (found.do, found.receiver, found.day) == (Step.GIVE, cast.olga, TODAY + 3 * DAY)
    assert found.squares == tuple(places("B1"))
    drive.passing = Passing.KEEP
    found = step(desk)
    assert (found.do, found.receiver, found.first) == (Step.BEGIN, None, cast.olga)


def test_what_is_kept_goes_on_once_nothing_can_be_begun_without_another_piece(
    cast: Cast, plan: Plan
) -> None:
    desk = plan(2, 2, seams=seams("A1-B1"), mode="travelling", passing="keep")
    desk.knit("A1", cast.vera)
    desk.knit("A2", cast.vera)
    desk.knit("B1", cast.paul)
    board = board_of(desk.blanket)
    found = next_steps([board], whereabouts(board), TODAY)
    assert {each.do for each in found.values()} == {None}  # B2 needs both pieces
    desk.ask("B2", cast.paul)
    found = next_steps([board], whereabouts(board), TODAY)
    told = {each.piece.name: (each.do, each.receiver) for each in found.values()}
    assert told == {"A1": (Step.GIVE, cast.paul), "B1": (None, None)}
