"""Pieces on their way from door to door, through the real actions."""

from datetime import datetime, timedelta

from accounts.models import Member
from drives.actions.pieces import at_hand, hand_overs
from drives.models import Blanket, HandOver, HandOverWay, Piece

IN_THE_POST = timedelta(days=3)


def pass_pieces(blanket: Blanket, by: Member, now: datetime) -> None:
    """What was sent arrives; what nobody has on the needles goes to the first who waits."""
    on_their_way = HandOver.objects.sent().filter(piece__blanket=blanket)
    for hand_over in on_their_way.filter(sent_at__lte=now - IN_THE_POST):
        hand_overs.receive_piece(hand_over=hand_over, by=by, now=now)
    waited_for = Piece.objects.live().filter(blanket=blanket, turns__ended_at=None)
    for piece in waited_for.exclude(hand_overs__in=HandOver.objects.open()).distinct():
        first = piece.turns.waiting().first()
        if first and not at_hand.at_work(piece):
            made = hand_overs.arrange_hand_over(
                piece=piece, receiver=first.member, way=HandOverWay.POST, day=None, by=by, now=now
            )
            hand_overs.send_piece(hand_over=made, note="", by=by, now=now)
