"""What those who come to a meeting could begin there."""

from collections import Counter
from collections.abc import Sequence, Set

from accounts.models import Member
from drives.craft.layout.spread import spread
from drives.craft.places import Place
from drives.models import Claim
from drives.readings.board import Board
from drives.readings.whereabouts import Whereabouts


def under(board: Board, place: Place) -> frozenset[int]:
    """The ids of the pieces that the square at ``place`` is worked on."""
    supports = board.plan.stands_on[place]
    return frozenset(board.piece_of[each] for each in supports if each in board.piece_of)


def suggestions(
    board: Board, pieces: Sequence[Whereabouts], coming: Sequence[Member]
) -> dict[int, list[Place]]:
    """Squares that are ready, the best first, by the ids of knitters who come; one query.

    Who has the fewest squares in hand is served first, nobody above the drive's limit. Pieces
    that are not brought are left alone, those that are promised are for whom they are promised
    to, and where only one can work on a piece at a time it is one who is suggested.
    """
    drive = board.blanket.drive
    open_claims = Claim.objects.open().filter(square__blanket__drive=drive)
    in_hand = Counter(open_claims.order_by().values_list("member", flat=True))
    knitters = [member for member in coming if member.is_volunteer]
    knitters.sort(key=lambda member: (in_hand[member.pk], member.name, member.pk))
    here = {member.pk for member in coming} | {None}
    absent = {there.piece.pk for there in pieces if there.piece.holder_id not in here}
    most = drive.room_on_a_piece
    offered = [offer.place for offer in board.offers]
    needs = {place: under(board, place) for place in offered}
    travels = drive.one_pair_of_hands
    return spread(
        [place for place in offered if not (travels and needs[place] & absent)],
        {member.pk: max(drive.claim_limit - in_hand[member.pk], 0) for member in knitters},
        pieces=needs,
        at_work={there.piece.pk: _at_work(there, alone=travels) for there in pieces},
        most=most,
        holders={there.piece.pk: there.piece.holder_id for there in pieces},
    )


def _at_work(there: Whereabouts, *, alone: bool) -> Set[int]:
    """Who knits on the piece; where only one can, the one it is promised to, or who waits first."""
    if alone and there.hand_over:
        return {there.hand_over.receiver_id}
    working = {claim.member_id for claim in there.needles}
    if alone and not working and there.queue:
        return {there.queue[0].member_id}
    return working
