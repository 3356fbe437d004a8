"""What must be so for an act: asked by the action when it holds the rows, by its page before."""

from collections.abc import Collection

from drives.craft.layout import states
from drives.craft.layout.plan import Plan
from drives.craft.places import Place
from drives.models import Claim, HandOver, Piece, Square, StoredState

from . import refusals


def require_claim(square: Square) -> Claim:
    """The open claim on the square: one query. Refused: not-taken."""
    claim = square.open_claim()
    if claim is None:
        raise refusals.not_taken(square.place)
    return claim


def require_uncovered(square: Square, plan: Plan, begun: Collection[Place]) -> None:
    """The square is finished, and none of those ``begun`` stands on it.

    Refused: not-finished, others-stand-on-it.
    """
    if square.state != StoredState.FINISHED:
        raise refusals.not_finished(square.place)
    above = states.rip_first(plan, square.place, begun=begun)
    if above:
        raise refusals.others_stand_on_it(square.place, above)


def require_live(piece: Piece) -> None:
    """Refused: piece-is-no-more."""
    if piece.ended_at is not None:
        raise refusals.piece_is_no_more(piece)


def require_unpromised(piece: Piece) -> None:
    """No hand-over of the piece is open: one query. Refused: hand-over-open."""
    promised = piece.hand_overs.open().select_related("receiver").first()
    if promised is not None:
        raise refusals.hand_over_open(piece, promised.receiver.name)


def require_under_way(hand_over: HandOver) -> None:
    """Refused: hand-over-ended."""
    if hand_over.ended_at is not None:
        raise refusals.hand_over_ended(hand_over.piece)
