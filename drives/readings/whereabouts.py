"""Where the pieces of a blanket are: one reading of their rows, for pages and sheets alike."""

from collections.abc import Collection
from dataclasses import dataclass, field
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
    can be begun.
    """

    piece: Piece
    places: tuple[Place, ...]
    queue: list[Turn] = field(default_factory=list)
    hand_over: HandOver | None = None
    needles: list[Claim] = field(default_factory=list)
    ready: list[Place] = field(default_factory=list)

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
    live = Piece.objects.live().filter(blanket=board.blanket).select_related("holder")
    rows = list(live if pieces is None else live.filter(pk__in=pieces))
    for piece in rows:
        piece.blanket = board.blanket
    places: dict[int, list[Place]] = {piece.pk: [] for piece in rows}
    needles: dict[int, list[Claim]] = {piece.pk: [] for piece in rows}
    ready: dict[int, list[Place]] = {piece.pk: [] for piece in rows}
    queues: dict[int, list[Turn]] = {piece.pk: [] for piece in rows}
    for place in board.plan.places:
        at = board.piece_of.get(place)
        if at in places:
            places[at].append(place)
        supports = board.plan.stands_on[place]
        under = {board.piece_of[support] for support in supports if support in board.piece_of}
        for pk in under & places.keys():
            if place in board.claims:
                needles[pk].append(board.claims[place])
            elif board.state_of[place] is State.READY:
                ready[pk].append(place)
    for turn in Turn.objects.waiting().filter(piece__in=rows).select_related("member"):
        queues[turn.piece_id].append(turn)
    moving = HandOver.objects.open().filter(piece__in=rows)
    hand_overs = moving.select_related("piece", "giver", "receiver")
    under_way = {each.piece_id: each for each in hand_overs}
    return [
        Whereabouts(
            piece=piece,
            places=tuple(places[piece.pk]),
            queue=queues[piece.pk],
            hand_over=under_way.get(piece.pk),
            needles=needles[piece.pk],
            ready=ready[piece.pk],
        )
        for piece in rows
    ]
