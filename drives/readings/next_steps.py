"""What is proposed to whoever has a piece now, as the drive passes pieces on."""

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from accounts.models import Member
from drives.craft.forecast.passing import Passing, Step, next_step
from drives.craft.places import Place
from drives.models.drive import Mode
from drives.models.piece import Piece
from drives.models.square import Square

from .board import Board, board_of
from .meetings import exchanges
from .whereabouts import Whereabouts, whereabouts


class NextStep(NamedTuple):
    """It is a choice of the circle, and no law: whoever has the piece may do otherwise.

    ``do`` is None where nothing is to be done with it. ``squares``: those on the needles on it,
    else those that its holder can begin on it, best first. ``first``: who is first of all who are
    ``waiting`` for it. ``day``: when the circle meets, where pieces change hands there.
    """

    piece: Piece
    do: Step | None
    squares: tuple[Place, ...]
    in_work: bool
    first: Member | None
    waiting: int
    day: date | None

    @property
    def receiver(self) -> Member | None:
        """To whom it is to be given."""
        return self.first if self.do is Step.GIVE else None


def next_steps(
    boards: Iterable[Board], pieces: Iterable[Whereabouts], today: date
) -> dict[int, NextStep]:
    """By the id of each of the ``pieces`` that somebody has and that is promised to nobody yet.

    Of drives in which pieces travel. One query where some change hands at meetings.
    """
    travelling = {
        board.blanket.pk: board for board in boards if board.blanket.drive.mode == Mode.TRAVELLING
    }
    days = exchanges({board.blanket.drive for board in travelling.values()}, today)
    return {
        there.piece.pk: _next_step(board, there, days.get(board.blanket.drive_id))
        for there in pieces
        if (board := travelling.get(there.piece.blanket_id))
        and there.piece.holder_id is not None
        and there.hand_over is None
    }


def next_step_after(square: Square, today: date) -> NextStep | None:
    """Of the piece that the finished ``square`` belongs to."""
    if square.piece_id is None or square.blanket.drive.mode != Mode.TRAVELLING:
        return None
    board = board_of(square.blanket)
    pieces = whereabouts(board, [square.piece_id])
    return next_steps([board], pieces, today).get(square.piece_id)


def _next_step(board: Board, there: Whereabouts, day: date | None) -> NextStep:
    in_work = bool(there.needles)
    best = [offer.place for offer in board.offers]
    squares = (
        [claim.square.place for claim in there.needles]
        if in_work
        else sorted(there.at_hand, key=best.index)
    )
    return NextStep(
        piece=there.piece,
        do=next_step(
            Passing(board.blanket.drive.passing),
            in_work=in_work,
            can_begin=bool(squares),
            waited_for=bool(there.queue),
        ),
        squares=tuple(squares),
        in_work=in_work,
        first=there.queue[0].member if there.queue else None,
        waiting=len(there.queue),
        day=day,
    )
