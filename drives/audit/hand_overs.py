"""Who has the pieces of one blanket, who waits for them, and which are on their way."""

from collections.abc import Iterator

from drives.craft.layout.plan import Plan
from drives.models import Claim, Mode, Piece

from .finding import Finding, where
from .rows import Rows


def audit_hands(rows: Rows, planned: Plan) -> Iterator[Finding]:
    for piece in rows.pieces:
        if piece.ended_at:
            yield from _no_more(rows, piece)
        else:
            yield from _holder(rows, piece)
            yield from _on_the_needles(rows, planned, piece)
            yield from _hand_over(rows, planned, piece)
            yield from _line(rows, piece)


def _no_more(rows: Rows, piece: Piece) -> Iterator[Finding]:
    for turn in rows.turns.get(piece.pk, []):
        yield Finding(where(piece), f"it has ended, but {turn.member} waits for it.")
    if piece.pk in rows.hand_overs:
        yield Finding(where(piece), "it has ended, but is being handed over.")


def _holder(rows: Rows, piece: Piece) -> Iterator[Finding]:
    """A piece that began around a table has no holder until somebody takes it up."""
    if rows.mode == Mode.TOGETHER and piece.holder:
        yield Finding(where(piece), f"pieces stay with the circle, but {piece.holder} has it.")
    if rows.mode == Mode.TRAVELLING and piece.holder is None and not rows.resettled:
        yield Finding(where(piece), "nobody has it.")


def _on_the_needles(rows: Rows, planned: Plan, piece: Piece) -> Iterator[Finding]:
    """What was begun before the drive's rules about pieces changed may break them."""
    room = rows.blanket.drive.room_on_a_piece
    knitters = {claim.member for claim in _claims_on(rows, planned, piece)}
    if room is None or rows.resettled:
        return
    if len(knitters) > room:
        what = f"{len(knitters)} people work on it, and {room} may."
        yield Finding(where(piece), what)
    elif rows.mode == Mode.TRAVELLING and room == 1 and knitters - {piece.holder}:
        (knitter,) = knitters
        yield Finding(where(piece), f"{knitter} works on it, but {piece.holder} has it.")


def _hand_over(rows: Rows, planned: Plan, piece: Piece) -> Iterator[Finding]:
    hand_over = rows.hand_overs.get(piece.pk)
    if hand_over is None:
        return
    if rows.mode == Mode.TOGETHER:
        yield Finding(where(piece), "pieces stay with the circle, but it is being handed over.")
    elif hand_over.giver_id != piece.holder_id:
        what = f"{hand_over.giver} is to hand it over, but {piece.holder} has it."
        yield Finding(where(hand_over), what)
    if hand_over.sent_at and _claims_on(rows, planned, piece):
        yield Finding(where(hand_over), "it is on its way, but somebody works on it.")


def _line(rows: Rows, piece: Piece) -> Iterator[Finding]:
    for turn in rows.turns.get(piece.pk, []):
        if rows.mode == Mode.TOGETHER:
            what = f"pieces stay with the circle, but {turn.member} waits for it."
            yield Finding(where(piece), what)
        elif turn.member_id == piece.holder_id:
            yield Finding(where(piece), f"{turn.member} waits for it, and has it.")


def _claims_on(rows: Rows, planned: Plan, piece: Piece) -> list[Claim]:
    on_it = {place for place, square in rows.squares.items() if square.piece_id == piece.pk}
    return [
        claim
        for place, claims in rows.claims.items()
        if not on_it.isdisjoint(planned.stands_on.get(place, ()))
        for claim in claims
        if claim.ended_at is None
    ]
