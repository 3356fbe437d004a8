"""The pieces of one blanket against the fabrics that its finished squares really make."""

from collections.abc import Iterator

from drives.craft.layout.plan import Plan
from drives.craft.places import Place
from drives.models import Piece, StoredState

from .finding import Finding
from .rows import Rows


def audit_fabrics(rows: Rows, planned: Plan) -> Iterator[Finding]:
    """One live piece for each fabric, named after one of its squares; no square elsewhere."""
    in_piece: dict[int | None, set[Place]] = {}
    for place, square in rows.squares.items():
        if square.state == StoredState.FINISHED:
            in_piece.setdefault(square.piece_id, set()).add(place)
        elif square.piece_id is not None:
            yield rows.finding("it is not finished, but belongs to a piece.", [place])
    for fabric in planned.pieces(among=set().union(*in_piece.values())):
        owners = {rows.squares[place].piece_id for place in fabric}
        if len(owners) > 1:
            yield rows.finding(f"one fabric, but {len(owners)} pieces.", fabric)
    if None in in_piece:
        yield rows.finding("finished, but in no piece.", in_piece.pop(None))
    for piece in rows.pieces:
        yield from _piece(rows, planned, piece, in_piece.pop(piece.pk, set()))
    for places in in_piece.values():
        yield rows.finding("in a piece of another blanket.", places)


def _piece(rows: Rows, planned: Plan, piece: Piece, places: set[Place]) -> Iterator[Finding]:
    if piece.ended_at:
        if places:
            yield rows.finding(f"in piece {piece}, which has ended.", places)
    elif not places:
        yield rows.finding(f"piece {piece} has no squares, but has not ended.")
    else:
        fabrics = planned.pieces(among=places)
        if len(fabrics) > 1:
            yield rows.finding(f"piece {piece} is {len(fabrics)} fabrics.")
        if piece.name not in map(str, places):
            yield rows.finding(f"piece {piece} does not hold the square it is named after.")
