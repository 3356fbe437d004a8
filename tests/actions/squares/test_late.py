"""Late squares: reminded once for each due date, and back to the circle after the grace."""

from datetime import datetime

import pytest
from django.conf import settings
from django.utils import timezone

from accounts.actions import remove_member
from accounts.models import IdempotentCall, Member
from drives import tasks
from drives.actions.squares import claims
from drives.models import Letter, Subject
from shared import celery_app
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk, nothing_changes

LATE = NOW + 15 * DAY
TOO_LATE = NOW + 22 * DAY


def test_a_claim_lapses_when_its_grace_is_over(cast: Cast, plan: Plan) -> None:
    desk = plan()
    claim = desk.claim("A1", cast.vera)
    with nothing_changes():
        assert not claims.lapse_claim(claim=claim, now=NOW + 21 * DAY)
    assert claims.lapse_claim(claim=claim, now=TOO_LATE)
    claim.refresh_from_db()
    assert (claim.ended_at, claim.ending) == (TOO_LATE, "lapsed")
    assert desk.states() == {}
    event = desk.events()[-1]
    assert (event.verb, event.by, event.facts) == (
        "lapsed",
        None,
        {"place": "A1", "member": cast.vera.pk},
    )
    with nothing_changes():
        assert not claims.lapse_claim(claim=claim, now=TOO_LATE)


def test_an_extension_that_came_meanwhile_counts(cast: Cast, plan: Plan) -> None:
    desk = plan()
    as_read_before = desk.claim("A1", cast.vera)
    desk.extend("A1", cast.cora, days=7, at=LATE)
    with nothing_changes():
        assert not claims.lapse_claim(claim=as_read_before, now=TOO_LATE)


def test_squares_of_who_has_left_are_released_without_waiting(cast: Cast, plan: Plan) -> None:
    desk = plan()
    claim = desk.claim("A1", cast.vera)
    remove_member(member=cast.vera, by=cast.olga, now=NOW + DAY)
    assert claims.lapse_claim(claim=claim, now=NOW + 2 * DAY)
    claim.refresh_from_db()
    assert (claim.ending, desk.verbs()[-1]) == ("released", "released")


def test_a_late_claim_is_reminded_of_once_for_each_due_date(cast: Cast, plan: Plan) -> None:
    desk = plan()
    claim = desk.claim("A1", cast.vera)
    with nothing_changes():
        assert not claims.remind_knitter(claim=claim, now=NOW + 14 * DAY)
    assert claims.remind_knitter(claim=claim, now=LATE)
    with nothing_changes():
        assert not claims.remind_knitter(claim=claim, now=LATE)
    event = desk.events()[-1]
    assert (event.verb, event.by) == ("reminded", None)
    desk.extend("A1", cast.cora, days=1, at=LATE)
    assert not claims.remind_knitter(claim=claim, now=LATE)
    assert claims.remind_knitter(claim=claim, now=LATE + 2 * DAY)
    written = Letter.objects.filter(member=cast.vera, subject=Subject.LATE, claim=claim)
    assert [letter.queued_at for letter in written] == [LATE, LATE + 2 * DAY]


def test_nobody_on_paper_is_said_to_be_reminded(cast: Cast, plan: Plan) -> None:
    claim = plan().claim("A1", cast.paul, by=cast.cora)
    with nothing_changes():
        assert not claims.remind_knitter(claim=claim, now=LATE)


class Clock:
    """The tasks ask the real clock, so claims are made as long ago as the story needs."""

    def __init__(self) -> None:
        self.now = timezone.now()

    def days_ago(self, days: int) -> datetime:
        return self.now - days * DAY


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def crowd(cast: Cast, plan: Plan, clock: Clock, will: Member) -> Desk:
    """Vera is late, Will is too late, Paul on paper is late, Olga is in time."""
    desk = plan(4, 4)
    for name in ["A1", "B1", "A2", "C1", "B2", "A3"]:
        desk.claim(name, cast.olga, at=clock.days_ago(60))
        desk.finish(name, cast.olga, at=clock.days_ago(59))
    desk.claim("D1", cast.vera, at=clock.days_ago(18))
    desk.claim("C2", will, at=clock.days_ago(22))
    desk.claim("B3", cast.paul, by=cast.cora, at=clock.days_ago(18))
    desk.claim("A4", cast.olga, at=clock.days_ago(3))
    return desk


def taken(desk: Desk) -> set[str]:
    return {name for name, state in desk.states().items() if state == "taken"}


def test_the_sweep_lapses_what_is_too_late_and_nothing_else(crowd: Desk) -> None:
    tasks.lapse_claims()
    assert taken(crowd) == {"D1", "B3", "A4"}
    with nothing_changes():
        tasks.lapse_claims()


def test_the_sweep_frees_squares_of_who_has_left(crowd: Desk, cast: Cast, clock: Clock) -> None:
    remove_member(member=cast.paul, by=cast.olga, now=clock.now)
    tasks.lapse_claims()
    assert taken(crowd) == {"D1", "A4"}


def test_old_calls_are_forgotten(cast: Cast, clock: Clock) -> None:
    assert cast.vera.user is not None
    for days in (1, 3):
        IdempotentCall.objects.create(
            user=cast.vera.user,
            key=f"{days} days old",
            fingerprint="",
            status=200,
            body={},
            created_at=clock.days_ago(days),
        )
    tasks.forget_calls()
    assert [call.key for call in IdempotentCall.objects.all()] == ["1 days old"]


def test_the_clock_knows_the_sweeps() -> None:
    known = {entry["task"] for entry in settings.CELERY_BEAT_SCHEDULE.values()}
    for sweep in (tasks.lapse_claims, tasks.settle_departed, tasks.forget_calls):
        assert sweep.name in known
        assert sweep.name in celery_app.tasks
