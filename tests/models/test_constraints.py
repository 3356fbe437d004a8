"""What the database refuses by itself, whatever code writes to it, and by which rule."""

from typing import Any

import pytest
from django.db import DatabaseError, IntegrityError, connection, transaction
from django.db.models import F, Model

from accounts.models import Member
from drives.models import Blanket, Claim, Drive, HandOver, Piece, Sheet, Square
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, NOW, Desk


def breaks(rule: str, model: type[Model], where: dict[str, Any], **changes: Any) -> None:
    """The change is refused by ``rule``."""
    with pytest.raises(IntegrityError, match=rule), transaction.atomic():
        assert model._base_manager.filter(**where).update(**changes) == 1


@pytest.fixture
def desk(cast: Cast, plan: Plan) -> Desk:
    """A1 finished, B1 taken, A2 ready, B2 waiting for both."""
    desk = plan()
    desk.knit("A1", cast.vera)
    desk.claim("B1", cast.vera)
    return desk


B2 = {"column": 2, "row": 2}
ON_UNFINISHED = "nothing_begun_stands_on_unfinished"


def test_no_write_takes_a_square_that_stands_on_an_unfinished_one(desk: Desk) -> None:
    breaks(ON_UNFINISHED, Square, B2, state="taken")


def test_no_write_finishes_a_square_that_stands_on_an_unfinished_one(
    desk: Desk, cast: Cast
) -> None:
    breaks(ON_UNFINISHED, Square, B2, state="finished", finished_at=NOW, knitter=cast.vera)


def test_no_support_is_ripped_from_under_a_begun_square(desk: Desk) -> None:
    breaks(ON_UNFINISHED, Square, {"column": 2, "row": 1}, unmet=F("unmet") + 1)


def test_bare_sql_is_refused_too(desk: Desk) -> None:
    taken = 'UPDATE drives_square SET state = \'taken\' WHERE "column" = 2 AND "row" = 2'
    with (
        pytest.raises(IntegrityError, match=ON_UNFINISHED),
        transaction.atomic(),
        connection.cursor() as cursor,
    ):
        cursor.execute(taken)


def test_no_row_is_inserted_as_begun_on_unfinished(desk: Desk) -> None:
    with pytest.raises(IntegrityError, match=ON_UNFINISHED), transaction.atomic():
        Square.objects.create(blanket=desk.blanket, column=3, row=1, state="taken", unmet=1)


def test_save_and_bulk_writes_are_refused_too(desk: Desk) -> None:
    square = desk.square("B2")
    square.state = "taken"
    with pytest.raises(IntegrityError, match=ON_UNFINISHED), transaction.atomic():
        square.save()
    with pytest.raises(IntegrityError, match=ON_UNFINISHED), transaction.atomic():
        Square.objects.bulk_update([square], ["state"])


def test_a_square_is_not_claimed_twice(desk: Desk, will: Member) -> None:
    with pytest.raises(IntegrityError), transaction.atomic():
        Claim.objects.create(square=desk.square("B1"), member=will, taken_at=NOW, due_at=NOW + DAY)


def test_a_place_holds_one_square(desk: Desk) -> None:
    with pytest.raises(IntegrityError), transaction.atomic():
        Square.objects.create(blanket=desk.blanket, column=1, row=1)


@pytest.mark.parametrize(
    ("rule", "model", "where", "changes"),
    [
        ("finished_has_a_date_and_a_knitter", Square, {"column": 1, "row": 1}, {"knitter": None}),
        ("finished_has_a_date_and_a_knitter", Square, B2, {"finished_at": NOW}),
        ("square_state_known", Square, {"column": 1, "row": 2}, {"state": "lost"}),
        ("square_within_limits", Square, B2, {"size": 11}),
        ("square_within_limits", Square, B2, {"column": 151}),
        ("ended_claim_says_how", Claim, {"ended_at": None}, {"ending": "lapsed"}),
        ("ended_claim_says_how", Claim, {"ended_at": None}, {"ended_at": NOW}),
        ("claim_due_after_taken", Claim, {"ended_at": None}, {"due_at": NOW}),
        ("blanket_grid_within_limits", Blanket, {}, {"rows": 0}),
        ("blanket_stitches_within_limits", Blanket, {}, {"stitches": 1}),
        ("blanket_mitre_known", Blanket, {}, {"mitre": "round"}),
        ("blanket_gauge_positive", Blanket, {}, {"gauge": 0}),
        ("drive_mode_known", Drive, {}, {"mode": "alone"}),
        ("claim_limit_within_reason", Drive, {}, {"claim_limit": 0}),
        ("purpose_within_reason", Drive, {}, {"purpose": "x" * 2001}),
        ("claim_days_within_reason", Drive, {}, {"claim_days": 0}),
    ],
)
def test_rules_of_one_row(
    desk: Desk, rule: str, model: type[Model], where: dict[str, Any], changes: dict[str, Any]
) -> None:
    breaks(rule, model, where, **changes)


def test_a_count_never_falls_below_nothing(desk: Desk) -> None:
    with pytest.raises(DatabaseError), transaction.atomic():
        Square.objects.filter(column=1, row=1).update(unmet=F("unmet") - 1)


def test_live_pieces_of_a_blanket_have_different_names(desk: Desk) -> None:
    with pytest.raises(IntegrityError), transaction.atomic():
        Piece.objects.create(blanket=desk.blanket, name="A1", begun_at=NOW)
    Piece.objects.create(blanket=desk.blanket, name="A1", begun_at=NOW, ended_at=NOW, ending="lost")


def test_a_piece_is_on_one_way_at_a_time_and_between_two_people(
    desk: Desk, cast: Cast, will: Member
) -> None:
    piece = Piece.objects.get()
    HandOver.objects.create(piece=piece, giver=cast.vera, receiver=will, arranged_at=NOW)
    with pytest.raises(IntegrityError), transaction.atomic():
        HandOver.objects.create(piece=piece, giver=will, receiver=cast.paul, arranged_at=NOW)
    breaks("hand_over_between_two_people", HandOver, {}, giver=will)


def test_a_sheet_is_done_when_its_file_is_there(desk: Desk, cast: Cast) -> None:
    Sheet.objects.create(
        blanket=desk.blanket,
        kind="status",
        fingerprint="f",
        requested_by=cast.cora,
        requested_at=NOW,
    )
    breaks("done_sheet_holds_what_was_made", Sheet, {}, status="done")
    breaks("sheet_status_known", Sheet, {}, status="lost")
    breaks("sheet_progress_in_per_cent", Sheet, {}, progress=101)
    with pytest.raises(IntegrityError), transaction.atomic():
        Sheet.objects.create(
            blanket=desk.blanket,
            kind="status",
            fingerprint="f",
            requested_by=cast.cora,
            requested_at=NOW,
        )
