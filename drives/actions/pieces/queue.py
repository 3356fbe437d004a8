"""The line of those who wait for a piece."""

from collections.abc import Iterable, Sequence
from datetime import datetime

from accounts.models import Member
from drives.actions.locks import hold_piece
from drives.actions.log import note_blanket
from drives.models import Piece, Turn, TurnEnding
from shared.basics.transactions import writing


def join_queue(*, pieces: Iterable[Piece], member: Member, by: Member, now: datetime) -> None:
    """Put ``member`` in line for each piece, once. Inside the transaction that holds them."""
    for piece in pieces:
        _turn, new = Turn.objects.waiting().get_or_create(
            piece=piece, member=member, defaults={"asked_at": now}
        )
        if new:
            note_blanket(
                piece.blanket, by, "asked-for-piece", now, piece=piece.name, member=member.pk
            )


def place_in_queue(piece: Piece, member: Member) -> int:
    """The member's place in the line, from 1; 0 when they are not in it."""
    waiting = list(piece.turns.waiting().values_list("member", flat=True))
    return waiting.index(member.pk) + 1 if member.pk in waiting else 0


def leave_queue(*, piece: Piece, member: Member, by: Member | None, now: datetime) -> bool:
    """The member gives up waiting, and the line moves on: nothing is promised to them any more.

    False when they were not waiting. Refused: piece-is-no-more.
    """
    with writing():
        piece = hold_piece(piece)
        if not piece.turns.waiting().filter(member=member).end(TurnEnding.WITHDRAWN, now):
            return False
        piece.hand_overs.open().filter(receiver=member, sent_at=None).end(now)
        note_blanket(piece.blanket, by, "left-the-line", now, piece=piece.name, member=member.pk)
    return True


def serve_queue(piece: Piece, member: Member, now: datetime) -> None:
    """The member has the piece now. Inside the transaction that gives it to them."""
    piece.turns.waiting().filter(member=member).end(TurnEnding.SERVED, now)


def dissolve_queues(pieces: Iterable[Piece], now: datetime) -> None:
    """Nobody waits for the pieces any more. Inside the transaction that holds them."""
    Turn.objects.waiting().filter(piece__in=list(pieces)).end(TurnEnding.MOOT, now)


def merge_queues(kept: Piece, others: Sequence[Piece], now: datetime) -> None:
    """Who waits for one of ``others`` waits for ``kept``, each once, since they first asked."""
    first: dict[int, int] = {}
    for turn in Turn.objects.waiting().filter(piece__in=[kept, *others]):
        first.setdefault(turn.member_id, turn.pk)
    if kept.holder_id is not None:
        first.pop(kept.holder_id, None)  # nobody waits for themselves
    waiting = Turn.objects.waiting().filter(piece__in=[kept, *others])
    waiting.exclude(pk__in=first.values()).end(TurnEnding.MOOT, now)
    waiting.filter(pk__in=first.values()).update(piece=kept)
