"""Taking a square: what it stores, and every reason why not."""

from datetime import UTC, datetime

import pytest

from accounts.actions import remove_member
from accounts.models import Member
from drives.actions.drives.blankets import change_layout
from drives.actions.squares import claims
from drives.craft.layout.layout import Layout
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, REST_OF_DAY, Desk, new_blanket, nothing_changes, refused


def test_a_claim_takes_the_square_until_the_due_date(cast: Cast, plan: Plan) -> None:
    desk = plan()
    claim, new = claims.claim_square(
        square=desk.square("A1"), member=cast.vera, by=cast.vera, now=NOW
    )
    assert new
    assert desk.states() == {"A1": "taken"}
    assert (claim.member, claim.taken_at, claim.due_at) == (
        cast.vera,
        NOW,
        NOW + 14 * DAY + REST_OF_DAY,
    )
    assert (claim.ended_at, claim.ending, claim.rows_done) == (None, "", 0)


def test_a_claim_is_one_event_with_the_facts(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.claim("A1", cast.paul, by=cast.cora)
    (event,) = desk.events()
    assert (event.verb, event.by, event.at) == ("claimed", cast.cora, NOW)
    assert event.facts == {"place": "A1", "member": cast.paul.pk, "due": "2026-11-16"}
    assert event.circle == cast.olga.circle


def test_claiming_again_changes_nothing(cast: Cast, plan: Plan) -> None:
    desk = plan()
    first = desk.claim("A1", cast.vera)
    with nothing_changes():
        again = claims.claim_square(
            square=desk.square("A1"), member=cast.vera, by=cast.vera, now=NOW + DAY
        )
    assert again == (first, False)


def test_claiming_again_at_the_limit_is_no_refusal(cast: Cast, plan: Plan) -> None:
    desk = plan(claim_limit=1)
    first = desk.claim("A1", cast.vera)
    with nothing_changes():
        assert desk.claim("A1", cast.vera) == first


def test_a_square_that_stands_on_two_unfinished_names_both(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    with refused(
        "not-ready",
        "B2 cannot be begun yet: it joins onto A2 and B1, not finished so far.",
        waiting_for=["A2", "B1"],
    ):
        desk.claim("B2", cast.vera)


def test_only_what_is_unfinished_is_named(cast: Cast, plan: Plan, will: Member) -> None:
    desk = plan()
    desk.knit("A1 B1", cast.vera)
    desk.claim("A2", will)
    with refused(
        "not-ready",
        "B2 cannot be begun yet: it joins onto A2, not finished so far.",
        waiting_for=["A2"],
    ):
        desk.claim("B2", cast.vera)


def test_a_taken_square_names_its_knitter_and_date(cast: Cast, plan: Plan, will: Member) -> None:
    desk = plan()
    desk.claim("A1", cast.vera)
    with refused(
        "already-taken", "A1 is taken by Vera until 16 November; choose a square that is ready."
    ):
        desk.claim("A1", will)


def test_a_finished_square_stays_finished(cast: Cast, plan: Plan, will: Member) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    with refused("already-finished", "A1 is finished already; choose a square that is ready."):
        desk.claim("A1", will)


@pytest.mark.parametrize(
    ("limit", "detail"),
    [
        (1, "Vera has 1 square in hand already; finish it or give it back first."),
        (2, "Vera has 2 squares in hand already; finish one or give one back first."),
    ],
)
def test_nobody_holds_more_than_the_drive_allows(
    cast: Cast, plan: Plan, limit: int, detail: str, will: Member
) -> None:
    desk = plan(3, 3, claim_limit=limit)
    desk.knit("A1 B1 A2", will)
    for name in ("C1", "B2")[:limit]:
        desk.claim(name, cast.vera)
    with refused("too-many-claims", detail, limit=limit):
        desk.claim("A3", cast.vera)


def test_the_limit_counts_all_blankets_of_the_drive_and_no_other(
    cast: Cast, plan: Plan, will: Member
) -> None:
    one = plan(claim_limit=1)
    same_drive = Desk(new_blanket(cast.olga, one.blanket.layout(), one.blanket.drive))
    other_drive = plan(claim_limit=1)
    one.claim("A1", cast.vera)
    with refused(
        "too-many-claims",
        "Vera has 1 square in hand already; finish it or give it back first.",
        limit=1,
    ):
        same_drive.claim("A1", cast.vera)
    other_drive.claim("A1", cast.vera)
    same_drive.claim("A1", will)


def test_ended_claims_do_not_count(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 3, claim_limit=1)
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.vera)
    desk.give_back("B1", cast.vera)
    desk.claim("A2", cast.vera)
    assert desk.states() == {"A1": "finished", "A2": "taken"}


def test_who_has_left_takes_nothing(cast: Cast, plan: Plan) -> None:
    desk = plan()
    remove_member(member=cast.vera, by=cast.olga, now=NOW)
    with refused("member-has-left", "Vera is no longer in the circle."):
        desk.claim("A1", cast.vera, by=cast.olga)


def test_a_square_that_a_new_layout_took_away_is_refused(cast: Cast, plan: Plan) -> None:
    desk = plan(3, 1)
    gone = desk.square("C1")
    change_layout(blanket=desk.blanket, by=cast.olga, layout=Layout(2, 1, 20), now=NOW)
    with refused("not-ready", "C1 has changed this very moment; please try again.", waiting_for=[]):
        claims.claim_square(square=gone, member=cast.vera, by=cast.vera, now=NOW)


def test_the_log_tells_the_day_by_the_circles_clock(cast: Cast, plan: Plan) -> None:
    desk = plan()
    desk.claim("A1", cast.vera, at=datetime(2026, 7, 1, 23, 30, tzinfo=UTC))  # 0:30 in London
    assert desk.events()[0].facts["due"] == "2026-07-16"
