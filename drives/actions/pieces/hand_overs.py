"""How a piece gets from one to the other.

A hand-over is arranged, may be on its way, and ends: received or cancelled. Whoever changes who
has a piece holds its row first, and so does who claims a square on it.
"""

from datetime import date, datetime

from accounts.actions.members import require_present
from accounts.models import Member
from drives.actions import refusals
from drives.actions.conditions import require_under_way, require_unpromised
from drives.actions.locks import hold_piece, hold_pieces_of
from drives.actions.log import note_blanket
from drives.actions.rights import hand_over_rights, piece_rights
from drives.models import Drive, HandOver, HandOverWay, Mode, Piece
from shared.basics.transactions import writing

from . import at_hand, queue

CONTACT_LENGTH = 300


def arrange_hand_over(
    *, piece: Piece, receiver: Member, way: HandOverWay, day: date | None, by: Member, now: datetime
) -> HandOver:
    """Agree that the piece goes to ``receiver``; the same again changes nothing.

    For the holder, who is in line for it, and coordinators. Refused: piece-is-no-more,
    no-travelling, member-has-left, not-yours, piece-is-theirs, hand-over-open.
    """
    with writing():
        piece = _hold_travelling(piece)
        require_present(receiver)
        if piece.holder_id == receiver.pk:
            raise refusals.piece_is_theirs(piece, receiver.name)
        asked_for_it = by.pk == receiver.pk and queue.place_in_queue(piece, by) > 0
        if not piece_rights(piece, by, in_line=asked_for_it).arrange:
            raise refusals.not_your_piece(piece)
        already = piece.hand_overs.open().select_related("giver", "receiver").first()
        if already is not None:
            if already.receiver_id == receiver.pk:
                return already
            raise refusals.hand_over_open(piece, already.receiver.name)
        made = HandOver.objects.create(
            piece=piece, giver=piece.holder, receiver=receiver, way=way, day=day, arranged_at=now
        )
        _note(made, by, "hand-over-arranged", now, way=way, day=day.isoformat() if day else None)
    return made


def send_piece(*, hand_over: HandOver, note: str, by: Member, now: datetime) -> HandOver:
    """The piece has left the giver's hands; ``note`` is a tracking note for the receiver.

    Again: nothing changes. Refused: hand-over-ended, not-yours, piece-in-work.
    """
    with writing():
        hand_over = _hold(hand_over)
        if not hand_over_rights(hand_over, by).for_giver:
            raise refusals.not_your_piece(hand_over.piece)
        require_under_way(hand_over)
        if hand_over.sent_at is not None:
            return hand_over
        _refuse_in_work(hand_over.piece)
        hand_over.sent_at, hand_over.note = now, note
        hand_over.save(update_fields=["sent_at", "note"])
        _note(hand_over, by, "hand-over-sent", now)
    return hand_over


def receive_piece(*, hand_over: HandOver, by: Member, now: datetime) -> HandOver:
    """The receiver has the piece; their wait for it is over and the contacts are wiped.

    Again: nothing changes. Refused: hand-over-ended (when cancelled), not-yours, piece-in-work.
    """
    with writing():
        hand_over = _hold(hand_over)
        if not hand_over_rights(hand_over, by).for_receiver:
            raise refusals.not_your_piece(hand_over.piece)
        if hand_over.received:
            return hand_over
        require_under_way(hand_over)
        _refuse_in_work(hand_over.piece)
        at_hand.pass_piece_on(hand_over.piece, hand_over.receiver, now)
        hand_over.refresh_from_db()
        _note(hand_over, by, "hand-over-received", now)
    return hand_over


def take_piece(*, piece: Piece, by: Member, now: datetime) -> Piece:
    """``by`` says that they have the piece: ``arrange_hand_over`` and ``receive_piece`` in one.

    Again: nothing changes. Refused as those two are.
    """
    with writing():
        held = _hold_travelling(piece)
        if held.holder_id != by.pk:
            promised = held.hand_overs.open().filter(receiver=by).first()
            hand_over = promised or arrange_hand_over(
                piece=held, receiver=by, way=HandOverWay.HAND, day=None, by=by, now=now
            )
            receive_piece(hand_over=hand_over, by=by, now=now)
            held.refresh_from_db()
    return held


def cancel_hand_over(*, hand_over: HandOver, by: Member | None, now: datetime) -> HandOver:
    """It does not take place, and the piece stays where it is. For both and coordinators.

    ``by`` is None when the site does it. Again: nothing changes. Refused: hand-over-ended (when
    received), not-yours.
    """
    with writing():
        hand_over = _hold(hand_over)
        rights = hand_over_rights(hand_over, by) if by else None
        if rights and not (rights.for_giver or rights.for_receiver):
            raise refusals.not_your_piece(hand_over.piece)
        if hand_over.received:
            raise refusals.hand_over_ended(hand_over.piece)
        if hand_over.ended_at is None:
            HandOver.objects.filter(pk=hand_over.pk).end(now)
            hand_over.refresh_from_db()
            _note(hand_over, by, "hand-over-cancelled", now)
    return hand_over


def tell_contact(*, hand_over: HandOver, by: Member, contact: str) -> HandOver:
    """Giver or receiver tells the other how to reach them; empty takes it back.

    No event: nobody else is to know. Refused: hand-over-ended, not-yours.
    """
    with writing():
        hand_over = _hold(hand_over)
        rights = hand_over_rights(hand_over, by)
        if not (rights.gives or rights.gets):
            raise refusals.not_your_piece(hand_over.piece)
        require_under_way(hand_over)
        field = "giver_contact" if rights.gives else "receiver_contact"
        setattr(hand_over, field, contact[:CONTACT_LENGTH])
        hand_over.save(update_fields=[field])
    return hand_over


def forget_contacts_of_departed() -> int:
    """Wipe how to reach givers who have left the circle; answers of how many hand-overs.

    What they sent before is still under way. No event: nobody else knew.
    """
    with writing():
        told = HandOver.objects.open().filter(giver__left_at__isnull=False)
        return told.exclude(giver_contact="").update(giver_contact="")


def put_piece_into_hands(*, piece: Piece, member: Member, by: Member, now: datetime) -> Piece:
    """A coordinator notes who really has the piece; when they have it already, nothing changes.

    Refused: piece-is-no-more, no-travelling, member-has-left, hand-over-open, piece-in-work.
    """
    with writing():
        piece = _hold_travelling(piece)
        if piece.holder_id == member.pk:
            return piece
        require_present(member)
        require_unpromised(piece)
        _refuse_in_work(piece)
        at_hand.pass_piece_on(piece, member, now)
        note_blanket(piece.blanket, by, "piece-found", now, piece=piece.name, member=member.pk)
    return piece


def lay_pieces_down(drive: Drive, now: datetime) -> None:
    """All pieces of the drive lie on the circle's table, and nobody has to wait for one.

    Inside the transaction that changes the drive's mode.
    """
    pieces = hold_pieces_of(drive)
    Piece.objects.filter(pk__in=[piece.pk for piece in pieces]).update(holder=None)
    HandOver.objects.open().filter(piece__in=pieces).end(now)
    queue.dissolve_queues(pieces, now)


def _hold_travelling(piece: Piece) -> Piece:
    piece = hold_piece(piece)
    if piece.blanket.drive.mode != Mode.TRAVELLING:
        raise refusals.no_travelling()
    return piece


def _hold(hand_over: HandOver) -> HandOver:
    """The hand-over as it is now that its piece is held."""
    piece = hold_piece(hand_over.piece)
    hand_over = HandOver.objects.select_related("receiver", "giver").get(pk=hand_over.pk)
    hand_over.piece = piece
    return hand_over


def _refuse_in_work(piece: Piece) -> None:
    """What is on the needles cannot travel: the square must be finished or given back first."""
    names = [member.name for member in at_hand.at_work(piece)]
    if names:
        raise refusals.piece_in_work(piece, names)


def _note(
    hand_over: HandOver, by: Member | None, verb: str, now: datetime, **more: str | None
) -> None:
    piece = hand_over.piece
    note_blanket(piece.blanket, by, verb, now, piece=piece.name, to=hand_over.receiver_id, **more)
