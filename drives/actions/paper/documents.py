"""Asking for printed documents: what may be chosen about each, and who may have it made."""

from dataclasses import replace
from datetime import datetime

from accounts.models import Member
from drives.actions import refusals
from drives.craft.layout.states import State
from drives.craft.places import Place
from drives.models import Blanket, Kind, Options, Piece, Sheet
from drives.readings.board import board

from .sheets import request_sheet

EVERYWHERE = ("paper", "ink", "print", "english")
USES: dict[str, tuple[str, ...]] = {
    Kind.STATUS: (),
    Kind.CARDS: ("places", "to_a_page", "hand"),
    Kind.WALL: ("tiled",),
    Kind.MEETING: ("meeting",),
    Kind.LABEL: ("piece",),
    Kind.FINISHING: (),
    Kind.GIFT: (),
    Kind.SET: ("to_a_page", "hand", "meeting"),
}
"""The choices that each kind has beside those of ``EVERYWHERE``."""
MOST_CARDS = 150  # in one document


def request_document(
    *, blanket: Blanket, by: Member, kind: str, options: Options, now: datetime
) -> Sheet:
    """The printed document of the blanket as it stands; choices that it has no use for are dropped.

    ``options.places`` are squares of the blanket, ``options.piece`` and ``options.meeting`` ids of
    its own, the former given for a label. Refused: piece-is-no-more.
    """
    used = {name: getattr(options, name) for name in (*EVERYWHERE, *USES[kind])}
    kept = Options(**used)
    if kept.english == blanket.drive.circle.english:
        kept = replace(kept, english="")
    if kind == Kind.LABEL:
        assert kept.piece is not None
        piece = Piece.objects.get(blanket=blanket, pk=kept.piece)
        if piece.ended_at is not None:
            raise refusals.piece_is_no_more(piece)
    return request_sheet(
        blanket=blanket,
        by=by,
        kind=kind,
        options=kept.stored(),
        now=now,
        in_batch=kind == Kind.SET,
    )


def for_anybody(blanket: Blanket, member: Member, kind: str, options: Options) -> bool:
    """Whether any member may have it made: labels, and cards of squares to knit.

    These are squares that ``member`` has in hand or that are ready. All else is for those who
    look after others.
    """
    if kind != Kind.CARDS or not options.places:
        return kind == Kind.LABEL
    known = board(blanket)
    mine = {place for place, claim in known.claims.items() if claim.member_id == member.pk}
    places = map(Place.parse, options.places)
    return all(place in mine or known.state_of.get(place) is State.READY for place in places)
