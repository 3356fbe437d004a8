"""Giving back, releasing, extending, counting rows: the life of a claim short of finishing."""

from datetime import timedelta

import pytest

from accounts.models import Member
from drives.actions.squares import claims
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, REST_OF_DAY, nothing_changes, refused

NOBODY = ("not-taken", "Nobody has A1 in hand; claim it first.")
NOT_YOURS = (
    "not-yours",
    "A1 is in Vera’s hands; only they, or a coordinator for them, can do this.",
)


def test_a_square_given_back_is_ready_again(cast: Cast, plan: Plan, will: Member) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    ended = desk.give_back("A1", cast.vera, at=NOW + DAY)
    assert (ended.ended_at, ended.ending) == (NOW + DAY, "given back")
    assert desk.states() == {}
    event = desk.events()[-1]
    assert (event.verb, event.by, event.facts) == (
        "given-back",
        cast.vera,
        {"place": "A1", "member": cast.vera.pk},
    )
    desk.claim("A1", will)


def test_giving_back_twice_is_refused_the_second_time(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    desk.give_back("A1", cast.vera)
    with refused(*NOBODY):
        desk.give_back("A1", cast.vera)


def test_another_volunteer_cannot_give_it_back(cast: Cast, plan: Plan, will: Member) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    with refused(*NOT_YOURS):
        desk.give_back("A1", will)


def test_a_coordinator_and_an_organiser_give_back_for_others(cast: Cast, plan: Plan) -> None:
    desk = plan()
    for helper in (cast.cora, cast.olga):
        desk.claim("A1", cast.paul, by=helper)
        desk.give_back("A1", helper)
    assert desk.verbs() == ["claimed", "given-back"] * 2


def test_release_frees_the_square(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    ended = desk.release("A1", cast.cora, at=NOW + DAY)
    assert (ended.ended_at, ended.ending) == (NOW + DAY, "released")
    assert desk.states() == {}
    event = desk.events()[-1]
    assert (event.verb, event.by) == ("released", cast.cora)
    with refused(*NOBODY):
        desk.release("A1", cast.cora)


def test_days_are_added_to_the_due_date(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    extended = desk.extend("A1", cast.cora, days=7, at=NOW + DAY)
    assert extended.due_at == NOW + 21 * DAY + REST_OF_DAY
    event = desk.events()[-1]
    assert (event.verb, event.facts) == (
        "extended",
        {"place": "A1", "member": cast.vera.pk, "due": "2026-11-23"},
    )


def test_days_of_a_late_claim_count_from_today(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    late = NOW + 20 * DAY
    assert desk.extend("A1", cast.cora, days=7, at=late).due_at == late + 7 * DAY + REST_OF_DAY


def test_what_nobody_has_cannot_be_extended(cast: Cast, plan: Plan) -> None:
    desk = plan()
    with refused(*NOBODY):
        desk.extend("A1", cast.cora, days=7)


def test_a_claim_is_late_after_its_due_day_and_lapses_after_the_grace(
    cast: Cast, plan: Plan
) -> None:
    claim = plan().claim("A1", cast.vera)
    day = NOW + 14 * DAY + REST_OF_DAY
    assert not claim.late(day)
    assert claim.late(day + timedelta.resolution)
    assert claim.lapses_at == day + 7 * DAY


@pytest.mark.parametrize(("asked", "kept"), [(-3, 0), (0, 0), (17, 17), (40, 40), (99, 40)])
def test_the_row_counter_stays_within_the_rows_of_the_square(
    cast: Cast, plan: Plan, asked: int, kept: int
) -> None:
    desk = plan(stitches=20)
    desk.claim("A1", cast.vera)
    held = claims.count_rows(square=desk.square("A1"), by=cast.vera, rows_done=asked)
    assert held.rows_done == kept
    assert desk.verbs() == ["claimed"]


def test_the_row_counter_is_its_knitters_alone(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    with refused(*NOT_YOURS):
        claims.count_rows(square=desk.square("A1"), by=cast.cora, rows_done=3)


def test_a_square_taken_away_by_a_new_layout_is_in_nobodys_hands(cast: Cast, plan: Plan) -> None:
    desk = plan()
    square = desk.square("A1")
    square.pk += 1000
    with refused(*NOBODY):
        claims.give_back_square(square=square, by=cast.vera, now=NOW)
    with refused(*NOBODY):
        claims.release_claim(square=square, by=cast.cora, now=NOW)


def test_a_claim_that_ended_does_not_lapse(cast: Cast, plan: Plan) -> None:
    desk = plan()
    claim = desk.claim("A1", cast.vera)
    desk.finish("A1", cast.vera)
    with nothing_changes():
        assert not claims.lapse_claim(claim=claim, now=NOW + 99 * DAY)
