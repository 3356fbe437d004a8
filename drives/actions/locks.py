"""Every lock that an action takes, and the order in which it takes them.

Who needs several takes them in this order, so that no two ever wait for each other:

1. the circle, 2. the member (both in ``accounts.actions.locks``), 3. the drive, 4. the blanket,
5. pieces by id, 6. squares by id, 7. yarns by id, 8. sheets that nobody looks after.

All other rows are written under one of these, or by one statement that needs no lock before it:
measurements under their member, claims under their square, turns and hand-overs under their piece,
palettes, choices of lots and lines of the rota under their blanket, holdings, moves and
reservations under their yarn; users, invitations, codes, letters and who wants which, notes of
finders each by itself. A user's row comes before their
circles.

Each lock is FOR NO KEY UPDATE, so that rows which only point to the held one can still be written,
unless its function says otherwise.
"""

from collections.abc import Iterable
from datetime import datetime

from accounts.access import acts_for
from accounts.models import Circle, Member
from drives.craft.layout.plan import Plan
from drives.craft.places import Place
from drives.models import Blanket, Claim, Drive, Piece, Sheet, Square, StoredState, Yarn

from . import refusals
from .conditions import require_claim, require_live


def hold_drive(drive: Drive) -> Drive:
    """The drive with its circle: its settings and its receiver's rules stay as they are."""
    locked = Drive.objects.select_for_update(no_key=True, of=("self",))
    return locked.select_related("circle").get(pk=drive.pk)


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


def hold_pieces_of(drive: Drive) -> list[Piece]:
    """All live pieces of the drive."""
    live = Piece.objects.live().filter(blanket__drive=drive)
    return list(live.select_for_update(no_key=True, of=("self",)).order_by("pk"))


def hold_piece(piece: Piece) -> Piece:
    """The piece with its blanket. Refused: piece-is-no-more."""
    piece = hold_piece_or_its_end(piece)
    require_live(piece)
    return piece


def hold_piece_or_its_end(piece: Piece) -> Piece:
    """The piece with its blanket, which may have ended.

    Its holder is read when asked for: a join would answer with whom it was before the wait.
    """
    locked = Piece.objects.select_for_update(no_key=True, of=("self",))
    return locked.select_related("blanket__drive__circle").get(pk=piece.pk)


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


def hold_all_squares(blanket: Blanket, *, to_remove: bool = False) -> list[Square]:
    """All squares of the held blanket, so that nobody begins or finishes one.

    FOR UPDATE ``to_remove`` some of them: nothing may come to point to a row that is to go.
    """
    return list(blanket.squares.select_for_update(no_key=not to_remove).order_by("pk"))


def hold_squares_at(blanket: Blanket, places: Iterable[Place]) -> dict[Place, Square]:
    """Those at ``places``, so that nobody takes one meanwhile."""
    locked = blanket.squares.at_any(places).select_for_update(no_key=True)
    return {square.place: square for square in locked.order_by("pk")}


def hold_finished(square: Square, by: Member) -> Square:
    """The finished square, held, with its knitter: for them, or a coordinator.

    Refused: not-finished, not-yours.
    """
    locked = Square.objects.select_for_update(no_key=True, of=("self",))
    held = locked.select_related("knitter", "blanket__drive__circle").filter(pk=square.pk).first()
    if held is None or held.state != StoredState.FINISHED:
        raise refusals.not_finished_yet(square.place)
    if not acts_for(by, held.knitter_id):
        raise refusals.not_your_knitting(held)
    return held


def hold_square(square: Square) -> None:
    """The square's row; of one that a change of the layout took away there is nothing to hold."""
    Square.objects.select_for_update(no_key=True).filter(pk=square.pk).first()


def hold_claim(square: Square) -> Claim:
    """The open claim on the square, whose row is held. Refused: not-taken."""
    hold_square(square)
    return require_claim(square)


def hold_yarn(yarn: Yarn) -> Yarn:
    """The yarn, held: its ledger is written one line after the other."""
    locked = Yarn.objects.select_for_update(no_key=True, of=("self",))
    return locked.select_related("circle").get(pk=yarn.pk)


def hold_yarns(circle: Circle) -> dict[int, Yarn]:
    """All yarns of the held circle, by their ids."""
    locked = Yarn.objects.select_for_update(no_key=True).filter(circle=circle)
    return {yarn.pk: yarn for yarn in locked.order_by("pk")}


def hold_reserved(blanket: Blanket) -> list[Yarn]:
    """The yarns of which some is reserved for the held blanket."""
    reserved = Yarn.objects.filter(pk__in=blanket.reservations.values("yarn"))
    return list(reserved.select_for_update(no_key=True).order_by("pk"))


def hold_unattended_sheets(now: datetime) -> list[Sheet]:
    """Sheets that nobody looks after, those asked for singly first.

    SKIP LOCKED: what another sweep holds is in good hands.
    """
    unattended = Sheet.objects.unattended(now)
    locked = unattended.select_for_update(no_key=True, skip_locked=True)
    return list(locked.order_by("in_batch", "pk"))
