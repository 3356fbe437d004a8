"""The pieces that somebody has, who waits for them, and what is on its way to or from them."""

from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from django.db.models import Q

from accounts.models import Member
from drives.craft.forecast.passing import Step
from drives.models import HandOver, Mode, Piece
from drives.pages.pieces.proposed import proposed
from drives.readings.board import boards_of
from drives.readings.next_steps import NextStep, next_steps
from drives.readings.whereabouts import whereabouts_on


class HeldPiece(NamedTuple):
    """A piece in the reader's hands, and in sentences what is proposed to them."""

    step: NextStep
    told: list[str]

    @property
    def piece(self) -> Piece:
        return self.step.piece


class MyPieces(NamedTuple):
    """``wanted`` are held pieces that are to be given to somebody who waits; ``others`` stay."""

    coming: list[HandOver]
    going: list[HandOver]
    wanted: list[HeldPiece]
    others: list[HeldPiece]

    @property
    def moving(self) -> bool:
        """Whether something is to be done about a piece, or awaited."""
        return bool(self.coming or self.going or self.wanted)


def my_pieces(members: Sequence[Member], today: date) -> MyPieces:
    """What concerns a person with these memberships: two queries, and six where they hold any.

    One more where pieces change hands at meetings, and those for plans not yet known.
    """
    mine = {member.pk for member in members}
    hand_overs = HandOver.objects.open().filter(Q(giver__in=mine) | Q(receiver__in=mine))
    open_ones = list(hand_overs.select_related("giver", "receiver", "piece__blanket"))
    travelling = Piece.objects.live().filter(blanket__drive__mode=Mode.TRAVELLING)
    held = list(travelling.filter(holder__in=mine).select_related("blanket__drive"))
    boards = boards_of(list({piece.blanket_id: piece.blanket for piece in held}.values()))
    there = whereabouts_on(boards, {piece.pk for piece in held}) if held else []
    steps = next_steps(boards, there, today)
    pieces = [HeldPiece(step, proposed(step)) for step in steps.values()]
    return MyPieces(
        coming=[each for each in open_ones if each.receiver_id in mine],
        going=[each for each in open_ones if each.giver_id in mine],
        wanted=[each for each in pieces if each.step.do is Step.GIVE],
        others=[each for each in pieces if each.step.do is not Step.GIVE],
    )
