"""Whether a member has at hand what a square is worked on, and who has a piece."""

from datetime import datetime

from django.db.models import Exists, OuterRef

from accounts.models import Member
from drives.actions import refusals
from drives.actions.locks import hold_pieces
from drives.actions.readiness import is_ready, why_not_ready
from drives.models import Claim, HandOver, Piece, Square

from . import queue


def take_up_pieces(square: Square, member: Member, now: datetime) -> list[Piece]:
    """The pieces under the square that others have; none when ``member`` can begin.

    Inside the transaction of a claim, which holds the pieces from here on. A base square, and a
    circle around one table with room for all, cost no query. Refused: not-ready and the like,
    piece-full, piece-on-its-way, hand-over-open.
    """
    blanket, drive = square.blanket, square.blanket.drive
    room = drive.room_on_a_piece
    if room is None:
        return []
    supports = blanket.plan().stands_on.get(square.place, ())
    if not supports:
        return []
    pieces = hold_pieces(blanket, supports)
    sent = Exists(HandOver.objects.sent().filter(piece=OuterRef("piece")))
    # Read once more now that they are held: others may have joined or parted them meanwhile.
    on_its_way = dict(blanket.squares.at_any(supports).values_list("piece", sent))
    if on_its_way.keys() != {piece.pk for piece in pieces}:
        raise why_not_ready(square)
    if drive.one_pair_of_hands:
        elsewhere = [piece for piece in pieces if piece.holder_id not in (member.pk, None)]
        if elsewhere:
            if not is_ready(square):
                raise why_not_ready(square)
            return elsewhere
    for piece in pieces:
        if on_its_way[piece.pk]:
            raise refusals.on_its_way(piece)
        if not drive.one_pair_of_hands:
            _find_room(square, piece, member, room)
        elif piece.holder_id is None:
            _take_up(piece, member, now)
    return []


def at_work(piece: Piece) -> list[Member]:
    """The members who have a square in hand that stands on the piece, by name."""
    plan = piece.blanket.plan()
    on_it = {square.place for square in piece.squares.all()}
    claims = Claim.objects.open().filter(square__blanket=piece.blanket)
    working = {
        claim.member
        for claim in claims.select_related("square", "member")
        if not on_it.isdisjoint(plan.stands_on[claim.square.place])
    }
    return sorted(working, key=lambda member: (member.name, member.pk))


def pass_piece_on(piece: Piece, member: Member, now: datetime) -> None:
    """The member has the piece now: no wait of theirs, and no way it was on, is left.

    Inside the transaction that holds the piece.
    """
    piece.holder = member
    piece.save(update_fields=["holder"])
    queue.serve_queue(piece, member, now)
    piece.hand_overs.open().filter(receiver=member).end(now, received=True)
    piece.hand_overs.open().end(now)


def _find_room(square: Square, piece: Piece, member: Member, room: int) -> None:
    others = [other.name for other in at_work(piece) if other != member]
    if len(others) >= room:
        raise refusals.piece_full(piece, others) if is_ready(square) else why_not_ready(square)


def _take_up(piece: Piece, member: Member, now: datetime) -> None:
    """The circle has the piece, and who begins on it has it from then on."""
    promised = piece.hand_overs.open().exclude(receiver=member).select_related("receiver").first()
    if promised is not None:
        raise refusals.hand_over_open(piece, promised.receiver.name)
    pass_piece_on(piece, member, now)
