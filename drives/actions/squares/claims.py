"""Taking a square, and letting it go unfinished."""

from datetime import datetime
from zoneinfo import ZoneInfo

from accounts.actions.locks import hold_member
from accounts.actions.members import require_present
from accounts.models import Circle, Member
from drives.actions import refusals
from drives.actions.circles import letters
from drives.actions.locks import hold_claim, hold_square
from drives.actions.log import circle_day, note_blanket
from drives.actions.pieces import queue
from drives.actions.pieces.at_hand import take_up_pieces
from drives.actions.readiness import why_not_ready
from drives.actions.rights import square_rights
from drives.models import Claim, Ending, Square, StoredState, Subject
from shared.basics.days import DAY, day_of, ends
from shared.basics.transactions import writing


def claim_square(
    *, square: Square, member: Member, by: Member, now: datetime
) -> tuple[Claim, bool]:
    """``member`` takes the square; answers the claim, and whether it is new.

    The claim itself is one conditional UPDATE, so of many who try at once one gets the square and
    nobody waits for the whole blanket. Refused: not-ready, already-taken, already-finished,
    too-many-claims, member-has-left, piece-full, piece-on-its-way, hand-over-open, and
    piece-elsewhere, after ``member`` was put in line for the pieces that they lack.
    """
    drive = square.blanket.drive
    with writing():
        member = hold_member(member)  # their claims queue up, so that the limit is kept
        require_present(member)
        held = Claim.objects.open().filter(member=member, square__blanket__drive=drive)
        in_hand = {each.square_id: each for each in held.order_by()}
        if square.pk in in_hand:
            return in_hand[square.pk], False
        if len(in_hand) >= drive.claim_limit:
            raise refusals.too_many_claims(member.name, drive.claim_limit)
        elsewhere = take_up_pieces(square, member, now)
        if elsewhere:
            queue.join_queue(pieces=elsewhere, member=member, by=by, now=now)
        elif not Square.objects.ready().filter(pk=square.pk).update(state=StoredState.TAKEN):
            raise why_not_ready(square)
        else:
            return _taken(square, member, by, now), True
    # Outside the transaction: the wish stays noted.
    raise refusals.piece_elsewhere(
        square.place, elsewhere[0], queue.place_in_queue(elsewhere[0], member)
    )


def _taken(square: Square, member: Member, by: Member, now: datetime) -> Claim:
    blanket = square.blanket
    due = due_after(blanket.drive.claim_days, now, blanket.drive.circle.zone)
    made = Claim.objects.create(square=square, member=member, taken_at=now, due_at=due)
    note_blanket(
        blanket, by, "claimed", now,
        place=str(square), member=member.pk, due=circle_day(blanket, due),
    )  # fmt: skip
    return made


def due_after(days: int, moment: datetime, zone: ZoneInfo) -> datetime:
    """The end of the day so many ``days`` after that of ``moment``, by the clock of ``zone``."""
    return ends(day_of(moment, zone) + days * DAY, zone)


def give_back_square(*, square: Square, by: Member, now: datetime) -> Claim:
    """The claim's member, or a coordinator for them, gives the square back unfinished.

    Refused: not-taken, not-yours.
    """
    with writing():
        ended = _let_go(square, Ending.GIVEN_BACK, now, by=by)
        note_blanket(
            square.blanket, by, "given-back", now, place=str(square), member=ended.member_id
        )
    return ended


def release_claim(*, square: Square, by: Member, now: datetime) -> Claim:
    """A coordinator frees a square that somebody no longer works on. Refused: not-taken."""
    with writing():
        ended = _let_go(square, Ending.RELEASED, now)
        note_blanket(square.blanket, by, "released", now, place=str(square), member=ended.member_id)
    return ended


def extend_claim(*, square: Square, by: Member, days: int, now: datetime) -> Claim:
    """Give the holder ``days`` more, from the due day or from today if that has passed.

    Refused: not-taken.
    """
    with writing():
        held = hold_claim(square)
        held.due_at = due_after(days, max(held.due_at, now), square.blanket.drive.circle.zone)
        held.reminded_at = None
        held.save(update_fields=["due_at", "reminded_at"])
        due = circle_day(square.blanket, held.due_at)
        note_blanket(
            square.blanket, by, "extended", now, place=str(square), member=held.member_id, due=due
        )
    return held


def count_rows(*, square: Square, by: Member, rows_done: int, seen: int | None = None) -> Claim:
    """Move the row counter, between 0 and the rows of the square.

    ``seen``: where it stood on the page that was pressed. One that is older takes no row back. A
    bookmark in one's own knitting, so it writes no event. Refused: not-taken, not-yours,
    counted-elsewhere.
    """
    with writing():
        held = hold_claim(square)
        if not square_rights(square, held, by).mine:
            raise refusals.not_yours(square.place, held)
        if seen not in (None, held.rows_done) and rows_done < held.rows_done:
            raise refusals.counted_elsewhere(square.place, held)
        held.rows_done = min(max(rows_done, 0), square.rows_to_knit)
        held.save(update_fields=["rows_done"])
    return held


def lapse_claim(*, claim: Claim, now: datetime) -> bool:
    """End a claim whose days of grace are over; False when it is not (any more) so late."""
    square = claim.square
    with writing():
        hold_square(square)
        found = Claim.objects.open().select_related("member", "square__blanket__drive__circle")
        held = found.filter(pk=claim.pk).first()
        if held is None:
            return False
        left = held.member.left_at is not None
        if not (left or held.lapses_at < now):
            return False
        _end(square, held, Ending.RELEASED if left else Ending.LAPSED, now)
        verb = "released" if left else "lapsed"
        note_blanket(square.blanket, None, verb, now, place=str(square), member=held.member_id)
    return True


def keep_due_days(circle: Circle, before: ZoneInfo) -> None:
    """The circle's clock was ``before``: what is in hand stays due on the day that was told.

    Where its new clock was ahead by most of a day when a square was taken, not before that day.
    """
    zone = circle.zone
    claims = Claim.objects.open().filter(square__blanket__drive__circle=circle)
    for pk, taken, due in claims.order_by().values_list("pk", "taken_at", "due_at"):
        day = max(day_of(due, before), day_of(taken, zone))
        Claim.objects.filter(pk=pk, due_at=due).update(due_at=ends(day, zone))


def remind_knitter(*, claim: Claim, now: datetime) -> bool:
    """Mark a late claim as reminded, and have the reminder written; False if there is no need to.

    Nobody is reminded who wants no such letter, or cannot get any.
    """
    with writing():
        if not letters.gets_letter(claim.member, Subject.LATE):
            return False
        late = Claim.objects.overdue(now).filter(pk=claim.pk, reminded_at=None)
        if not late.update(reminded_at=now):
            return False
        # As it is now that it is ours: an extension may have come since ``claim`` was read.
        loaded = Claim.objects.select_related("member", "square__blanket__drive__circle")
        held = loaded.get(pk=claim.pk)
        letters.queue_letter(
            member=held.member,
            subject=Subject.LATE,
            about=letters.about_claim(held),
            claim=held,
            now=now,
        )
        square = claim.square
        note_blanket(
            square.blanket, None, "reminded", now, place=str(square), member=held.member_id
        )
    return True


def _let_go(square: Square, ending: Ending, now: datetime, by: Member | None = None) -> Claim:
    held = hold_claim(square)
    if by is not None and not square_rights(square, held, by).finish:
        raise refusals.not_yours(square.place, held)
    return _end(square, held, ending, now)


def _end(square: Square, claim: Claim, ending: Ending, now: datetime) -> Claim:
    claim.ended_at, claim.ending = now, ending
    claim.save(update_fields=["ended_at", "ending"])
    Square.objects.filter(pk=square.pk).update(state=StoredState.OPEN)
    return claim
