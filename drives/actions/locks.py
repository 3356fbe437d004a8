"""The rows that actions hold, always in this order.

Circle, member, blanket, pieces, squares, claim, yarns by id, and last what members hold of a yarn.
"""

from collections.abc import Iterable

from accounts.access import may
from accounts.models import Member, Role
from drives.craft.layout.plan import Plan
from drives.craft.places import Place
from drives.models import Blanket, Piece, Square, State, Yarn

from . import refusals


def hold_blanket(blanket: Blanket) -> tuple[Blanket, Plan]:
    """The blanket's row, held so that its layout and pieces stay as they are, and its plan."""
    locked = Blanket.objects.select_for_update(no_key=True, of=("self",))
    blanket = locked.select_related("drive__circle").get(pk=blanket.pk)
    return blanket, blanket.plan()


def hold_pieces(blanket: Blanket, places: Iterable[Place]) -> list[Piece]:
    """The live pieces that the squares at ``places`` belong to.

    Unless the blanket is held too, they may have been joined or parted while this waited.
    """
    under = blanket.squares.at_any(places).exclude(piece=None).values("piece")
    locked = Piece.objects.live().select_for_update(no_key=True).filter(pk__in=under)
    pieces = list(locked.order_by("pk"))
    for piece in pieces:
        piece.blanket = blanket
    return pieces


def hold_piece(piece: Piece) -> Piece:
    """The piece with its blanket. Refused: piece-is-no-more.

    Its holder is read when asked for: a join would answer with whom it was before the wait.
    """
    locked = Piece.objects.select_for_update(no_key=True, of=("self",))
    piece = locked.select_related("blanket__drive__circle").get(pk=piece.pk)
    if piece.ended_at is not None:
        raise refusals.piece_is_no_more(piece)
    return piece


def hold_squares(blanket: Blanket, plan: Plan, place: Place) -> Square:
    """The square at ``place``; it and those that stand on it are held.

    Refused (not-taken) when a change of the layout has just taken it away.
    """
    if place not in plan.size:
        raise refusals.not_taken(place)
    wanted = blanket.squares.at_any([place, *plan.carries[place]])
    locked = wanted.select_for_update(no_key=True, of=("self",)).order_by("pk")
    square = next(each for each in locked.select_related("knitter", "piece") if each.place == place)
    square.blanket = blanket
    return square


def hold_colours(blanket: Blanket) -> list[Square]:
    """All squares of the held blanket, held too: a plan must know which of them are begun."""
    return list(blanket.squares.select_for_update(no_key=True).order_by("pk"))


def hold_finished(square: Square, by: Member) -> Square:
    """The finished square, held, with its knitter: for them, or a coordinator.

    Refused: not-finished, not-yours.
    """
    locked = Square.objects.select_for_update(no_key=True, of=("self",))
    held = locked.select_related("knitter", "blanket__drive__circle").filter(pk=square.pk).first()
    if held is None or held.state != State.FINISHED:
        raise refusals.not_finished_yet(square.place)
    if held.knitter_id != by.pk and not may(by, Role.COORDINATOR):
        raise refusals.not_your_knitting(held)
    return held


def hold_yarn(yarn: Yarn) -> Yarn:
    """The yarn, held: its ledger is written one line after the other."""
    locked = Yarn.objects.select_for_update(no_key=True, of=("self",))
    return locked.select_related("circle").get(pk=yarn.pk)
