"""The pieces that somebody has, who waits for them, and what is on its way to or from them."""

from collections.abc import Sequence
from typing import NamedTuple

from django.db.models import Q

from accounts.models import Member
from drives.models import HandOver, Mode, Piece, Turn


class HeldPiece(NamedTuple):
    """A piece in the reader's hands, with those who wait for it, the first first."""

    piece: Piece
    queue: list[Turn]


class MyPieces(NamedTuple):
    """``wanted`` are held pieces for which somebody waits and nothing is agreed yet."""

    coming: list[HandOver]
    going: list[HandOver]
    wanted: list[HeldPiece]
    others: list[Piece]

    @property
    def moving(self) -> bool:
        """Whether something is to be done about a piece, or awaited."""
        return bool(self.coming or self.going or self.wanted)


def my_pieces(members: Sequence[Member]) -> MyPieces:
    """What concerns a person with these memberships: two queries, and one where they hold any."""
    mine = {member.pk for member in members}
    hand_overs = HandOver.objects.open().filter(Q(giver__in=mine) | Q(receiver__in=mine))
    open_ones = list(hand_overs.select_related("giver", "receiver", "piece__blanket"))
    travelling = Piece.objects.live().filter(blanket__drive__mode=Mode.TRAVELLING)
    held = list(travelling.filter(holder__in=mine).select_related("blanket"))
    lines: dict[int, list[Turn]] = {piece.pk: [] for piece in held}
    for turn in Turn.objects.waiting().filter(piece__in=held).select_related("member"):
        lines[turn.piece_id].append(turn)
    promised = {each.piece_id for each in open_ones}
    return MyPieces(
        coming=[each for each in open_ones if each.receiver_id in mine],
        going=[each for each in open_ones if each.giver_id in mine],
        wanted=[
            HeldPiece(piece, lines[piece.pk])
            for piece in held
            if lines[piece.pk] and piece.pk not in promised
        ],
        others=[piece for piece in held if not lines[piece.pk] and piece.pk not in promised],
    )
