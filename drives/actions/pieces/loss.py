"""A piece that is lost or spoilt, and the plan that starts again from what is left."""

from datetime import datetime

from accounts.models import Member
from drives.actions import refusals
from drives.actions.locks import hold_all_squares, hold_blanket, hold_piece_or_its_end
from drives.actions.log import note_blanket
from drives.craft.layout import states
from drives.models import Claim, Ending, Piece, PieceEnding, Square, StoredState
from shared.basics.transactions import writing

from . import queue


def declare_piece_lost(*, piece: Piece, by: Member, now: datetime) -> list[str]:
    """The piece's squares are no longer finished; answers their places.

    What somebody has in hand on it is released: it hangs on the lost piece. Of a piece that is
    no more already nothing is lost. For coordinators.
    """
    with writing():
        blanket, plan = hold_blanket(piece.blanket)
        piece = hold_piece_or_its_end(piece)
        if piece.ended_at is not None:
            return []
        squares = {square.place: square for square in hold_all_squares(blanket)}
        gone = {place for place, square in squares.items() if square.piece_id == piece.pk}
        caught = {
            place
            for place, square in squares.items()
            if square.state == StoredState.TAKEN and not gone.isdisjoint(plan.stands_on[place])
        }
        open_claims = Claim.objects.open().filter(
            square__in=[squares[place].pk for place in caught]
        )
        open_claims.update(ended_at=now, ending=Ending.RELEASED)
        for place in gone | caught:
            square = squares[place]
            square.state, square.grams, square.finished_at = StoredState.OPEN, None, None
            square.knitter, square.piece = None, None
        finished = {
            place for place, square in squares.items() if square.state == StoredState.FINISHED
        }
        for place, square in squares.items():
            square.unmet = states.unmet(plan, place, finished=finished)
        fields = ["state", "unmet", "grams", "finished_at", "knitter", "piece"]
        Square.objects.bulk_update(squares.values(), fields, batch_size=500)
        Piece.objects.filter(pk=piece.pk).update(ended_at=now, ending=PieceEnding.LOST)
        queue.dissolve_queues([piece], now)
        piece.hand_overs.open().end(now)
        lost, released = refusals.place_names(sorted(gone)), refusals.place_names(sorted(caught))
        note_blanket(
            blanket, by, "piece-lost", now, piece=piece.name, squares=lost, released=released
        )
    return lost
