"""What a member may do with a square, a piece, a hand-over: decided here, once.

Read from rows that are at hand. Actions refuse by it; pages and the API tell by it what there is to
do. Whether more stands against an act (the piece is on the needles, the limit is reached), the
action knows when it tries.
"""

from typing import NamedTuple

from accounts.access import acts_for, may
from accounts.models import Member, Role
from drives.craft.layout.states import State
from drives.models import Claim, HandOver, Mode, Piece, Square


class SquareRights(NamedTuple):
    """``mine``: it is in their own hands. The rest is named after what they may do."""

    mine: bool
    claim: bool  # for themselves; it may put them in line for the piece
    claim_for: bool  # for somebody else
    finish: bool  # or give it back
    extend: bool  # or release it
    rip_back: bool
    weigh: bool  # and measure
    choose_colour: bool


def square_rights(square: Square, claim: Claim | None, me: Member) -> SquareRights:
    """``claim`` is the open one on the square, if any."""
    coordinates = may(me, Role.COORDINATOR)
    mine = claim is not None and claim.member_id == me.pk
    ready = square.told_state is State.READY
    finished = square.told_state is State.FINISHED
    return SquareRights(
        mine=mine,
        claim=ready and may(me, Role.VOLUNTEER),
        claim_for=ready and coordinates,
        finish=claim is not None and acts_for(me, claim.member_id),
        extend=claim is not None and coordinates,
        rip_back=finished and coordinates,
        weigh=finished and acts_for(me, square.knitter_id),
        choose_colour=not finished and (mine or coordinates),
    )


class PieceRights(NamedTuple):
    """``mine``: it is in their own hands. The rest is named after what they may do."""

    mine: bool
    give: bool  # to anybody
    fetch: bool  # to themselves
    correct: bool  # say who really has it
    lose: bool  # declare it lost

    @property
    def arrange(self) -> bool:
        """Whether they may agree on a hand-over at all."""
        return self.give or self.fetch


def piece_rights(piece: Piece, me: Member, *, in_line: bool) -> PieceRights:
    """Of a live piece; ``in_line``: they wait for it."""
    travels = piece.blanket.drive.mode == Mode.TRAVELLING
    coordinates = may(me, Role.COORDINATOR)
    return PieceRights(
        mine=piece.holder_id == me.pk,
        give=travels and acts_for(me, piece.holder_id),
        fetch=travels and in_line,
        correct=travels and coordinates,
        lose=coordinates,
    )


class HandOverRights(NamedTuple):
    """``gives``, ``gets``: they are its giver, its receiver.

    ``for_giver``, ``for_receiver``: they may act as such, being that or a coordinator. The rest is
    named after what they may do.
    """

    gives: bool
    gets: bool
    for_giver: bool
    for_receiver: bool
    send: bool
    receive: bool
    cancel: bool


def hand_over_rights(hand_over: HandOver, me: Member) -> HandOverRights:
    for_giver, for_receiver = (
        acts_for(me, hand_over.giver_id),
        acts_for(me, hand_over.receiver_id),
    )
    under_way = hand_over.ended_at is None
    return HandOverRights(
        gives=hand_over.giver_id == me.pk,
        gets=hand_over.receiver_id == me.pk,
        for_giver=for_giver,
        for_receiver=for_receiver,
        send=under_way and for_giver and hand_over.sent_at is None,
        receive=under_way and for_receiver,
        cancel=under_way and (for_giver or for_receiver),
    )
