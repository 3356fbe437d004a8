"""Keeping the pieces true while squares are finished and ripped back.

Called inside the transactions of the other actions, with the blanket's row locked.
"""

from collections.abc import Sequence
from datetime import datetime
from typing import NamedTuple

from accounts.models import Member
from drives.craft.layout.plan import Plan
from drives.craft.places import Place
from drives.models import HandOver, Mode, Piece, PieceEnding, Square

from . import queue
from .at_hand import pass_piece_on


class Joined(NamedTuple):
    """The piece that a square went into, and the names of those that it made one with it."""

    kept: Piece
    merged: list[str]


def join_pieces(square: Square, knitter: Member, plan: Plan, now: datetime) -> Joined:
    """A base square begins a piece; one that stands on several makes them one, the oldest."""
    supports = square.blanket.squares.at_any(plan.stands_on[square.place])
    joined = list(Piece.objects.filter(squares__in=supports).distinct().order_by("begun_at", "pk"))
    if not joined:
        holder = knitter if square.blanket.drive.mode == Mode.TRAVELLING else None
        begun = Piece.objects.create(
            blanket=square.blanket, name=str(square), holder=holder, begun_at=now
        )
        return Joined(begun, [])
    kept, *others = joined
    Square.objects.filter(piece__in=others).update(piece=kept)
    if square.blanket.drive.mode == Mode.TRAVELLING and kept.holder_id != knitter.pk:
        pass_piece_on(kept, knitter, now)  # who joined a square to it has it in hand
    queue.merge_queues(kept, others, now)
    _end(others, PieceEnding.MERGED, now)
    return Joined(kept, [other.name for other in others])


def part_piece(piece: Piece, plan: Plan, now: datetime) -> list[str]:
    """After a square was ripped off ``piece``: what is left of it; answers the new pieces' names.

    The part with the square that gave the piece its name keeps the piece.
    """
    squares = {square.place: square for square in piece.squares.all()}
    parts = plan.pieces(among=squares.keys())
    parts.sort(key=lambda places: Place.parse(piece.name) not in places)
    if not parts:
        queue.dissolve_queues([piece], now)
        _end([piece], PieceEnding.RIPPED, now)
    split = []
    for places in parts[1:]:
        first = next(place for place in plan.places if place in places)
        begun = Piece.objects.create(
            blanket=piece.blanket, name=str(first), holder=piece.holder, begun_at=now
        )
        rows = [squares[place].pk for place in places]
        Square.objects.filter(pk__in=rows).update(piece=begun)
        split.append(begun.name)
    return split


def _end(pieces: Sequence[Piece], ending: PieceEnding, now: datetime) -> None:
    HandOver.objects.open().filter(piece__in=pieces).end(now)
    Piece.objects.filter(pk__in=[piece.pk for piece in pieces]).update(ended_at=now, ending=ending)
