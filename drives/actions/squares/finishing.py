"""Finishing a square, and ripping it back."""

from datetime import datetime
from typing import NamedTuple

from django.db.models import F

from accounts.access import acts_for
from accounts.models import Member
from drives.actions import refusals
from drives.actions.conditions import require_claim, require_uncovered
from drives.actions.locks import hold_blanket, hold_pieces, hold_squares
from drives.actions.log import note_blanket
from drives.actions.pieces import pieces
from drives.actions.rights import square_rights
from drives.craft.layout import states
from drives.craft.places import Place
from drives.models import Claim, Ending, Square, StoredState
from shared.basics.transactions import writing


class Finished(NamedTuple):
    """What finishing a square brought: the squares that became ready."""

    square: Square
    ready: tuple[Place, ...]


def finish_square(*, square: Square, by: Member, now: datetime) -> Finished:
    """The claim's member, or a coordinator for them, finishes the square.

    Again for the same square by the same people: nothing changes. Refused: not-taken, not-yours,
    already-finished.
    """
    with writing():
        blanket, plan = hold_blanket(square.blanket)
        hold_pieces(blanket, plan.stands_on.get(square.place, ()))
        square = hold_squares(blanket, plan, square.place)
        if square.state == StoredState.FINISHED:
            return Finished(_finished_before(square, by), ())
        claim = require_claim(square)
        if not square_rights(square, claim, by).finish:
            raise refusals.not_yours(square.place, claim)
        claim.ended_at, claim.ending = now, Ending.FINISHED
        claim.save(update_fields=["ended_at", "ending"])
        above = blanket.squares.at_any(plan.carries[square.place])
        above.update(unmet=F("unmet") - 1)
        ready = tuple(sorted(each.place for each in above.ready()))
        piece = pieces.join_pieces(square, claim.member, plan, now)
        square.state, square.finished_at, square.knitter, square.piece = (
            StoredState.FINISHED,
            now,
            claim.member,
            piece.kept,
        )
        square.save(update_fields=["state", "finished_at", "knitter", "piece"])
        note_blanket(
            blanket,
            by,
            "finished",
            now,
            place=str(square),
            member=claim.member_id,
            ready=refusals.place_names(ready),
            piece=piece.kept.name,
            merged=piece.merged,
        )
    return Finished(square, ready)


def rip_back_square(*, square: Square, by: Member, now: datetime) -> Square:
    """A finished square becomes open again. Refused: not-finished, others-stand-on-it."""
    with writing():
        blanket, plan = hold_blanket(square.blanket)
        hold_pieces(blanket, [square.place])
        square = hold_squares(blanket, plan, square.place)
        begun = {each.place for each in blanket.squares.exclude(state=StoredState.OPEN)}
        require_uncovered(square, plan, begun)
        knitter, piece = square.knitter, square.piece
        square.state, square.grams = StoredState.OPEN, None
        square.finished_at, square.knitter, square.piece = None, None, None
        square.save(update_fields=["state", "grams", "finished_at", "knitter", "piece"])
        blanket.squares.at_any(plan.carries[square.place]).update(unmet=F("unmet") + 1)
        split = pieces.part_piece(piece, plan, now) if piece else []
        note_blanket(
            blanket,
            by,
            "ripped-back",
            now,
            place=str(square),
            member=knitter.name if knitter else "",
            split=split,
        )
    return square


def _finished_before(square: Square, by: Member) -> Square:
    last = (
        Claim.objects.filter(square=square, ending=Ending.FINISHED)
        .select_related("member")
        .latest("ended_at")
    )
    if not acts_for(by, last.member_id):
        raise refusals.cannot_begin(square.place, states.Refusal(states.Obstacle.FINISHED), None)
    return square
