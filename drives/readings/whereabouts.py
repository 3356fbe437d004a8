"""Where the pieces of a blanket are: one reading of their rows, for pages and sheets alike."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, timedelta

from accounts.models import Member
from drives.craft.layout.states import State
from drives.craft.places import Place
from drives.models.claim import Claim
from drives.models.piece import HandOver, Piece, Turn

from .board import Board


@dataclass(frozen=True)
class Whereabouts:
    """A live piece with its squares, in the recommended order of work.

    ``queue`` are those who wait for it, the first first. ``hand_over`` is the open one.
    ``needles`` are the open claims on squares that stand on it, ``ready`` the squares on it that
    can be begun, ``at_hand`` those of them that whoever has it can begin with no other hand-over.
    """

    piece: Piece
    places: list[Place]
    queue: list[Turn] = field(default_factory=list)
    hand_over: HandOver | None = None
    needles: list[Claim] = field(default_factory=list)
    ready: list[Place] = field(default_factory=list)
    at_hand: list[Place] = field(default_factory=list)

    def turn_of(self, member: Member) -> int:
        """The member's place in the queue, from 1; 0 when they are not in it."""
        waiting = [turn.member_id for turn in self.queue]
        return waiting.index(member.pk) + 1 if member.pk in waiting else 0

    def expected(self, turn: int, today: date) -> date:
        """About when the piece may come, at the earliest, to the ``turn``-th in the queue, from 1.

        Nothing better is known than the days that the drive expects for one hand-over, and the
        day that was agreed for the one under way.
        """
        days = timedelta(days=self.piece.blanket.drive.hand_over_days)
        if self.hand_over is None:
            return today + turn * days
        agreed = self.hand_over.day or today + days
        return max(agreed, today) + (turn - 1) * days


def whereabouts(board: Board, pieces: Collection[int] | None = None) -> list[Whereabouts]:
    """The live pieces of a blanket, or those with these ids, by age: three queries."""
    return whereabouts_on([board], pieces)


def whereabouts_on(
    boards: Collection[Board], pieces: Collection[int] | None = None
) -> list[Whereabouts]:
    """The same of several blankets, in as many queries."""
    blankets = {board.blanket.pk: board.blanket for board in boards}
    live = Piece.objects.live().filter(blanket__in=blankets).select_related("holder")
    every = {piece.pk: piece for piece in live}
    found = {
        piece.pk: Whereabouts(piece, places=[])
        for piece in every.values()
        if pieces is None or piece.pk in pieces
    }
    for there in found.values():
        there.piece.blanket = blankets[there.piece.blanket_id]
    for board in boards:
        _lay_out(board, every, found)
    for turn in Turn.objects.waiting().filter(piece__in=found).select_related("member"):
        found[turn.piece_id].queue.append(turn)
    moving = HandOver.objects.open().filter(piece__in=found)
    for hand_over in moving.select_related("piece", "giver", "receiver"):
        at = hand_over.piece_id
        found[at] = replace(found[at], hand_over=hand_over)
    return list(found.values())


def _lay_out(board: Board, every: Mapping[int, Piece], found: Mapping[int, Whereabouts]) -> None:
    """Which squares each piece has, and what is worked, or can be, on it."""
    for place in board.plan.places:
        at = board.piece_of.get(place)
        if at is not None and at in found:
            found[at].places.append(place)
        supports = board.plan.stands_on[place]
        under = {board.piece_of[support] for support in supports if support in board.piece_of}
        holders = {every[pk].holder_id for pk in under if pk in every} - {None}
        for there in (found[pk] for pk in under if pk in found):
            if place in board.claims:
                there.needles.append(board.claims[place])
            elif board.state_of[place] is State.READY:
                there.ready.append(place)
                if holders <= {there.piece.holder_id}:
                    there.at_hand.append(place)
