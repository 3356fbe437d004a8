"""The map of a blanket in a page, and what its signs mean."""

from collections.abc import Collection, Mapping
from datetime import datetime

from django.urls import reverse
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from accounts.models import Member
from drives.craft.places import Place
from drives.drawing import legend, map_svg
from drives.pages.common.svg import drawn
from drives.readings.board import Board
from drives.readings.looks import looks_on
from drives.readings.whereabouts import Whereabouts
from drives.words.map import MEANINGS, square_words


def board_picture(
    board: Board,
    me: Member,
    now: datetime,
    pieces: Collection[Whereabouts] = (),
    *,
    looks: Mapping[str, str] | None = None,
    part: tuple[Place, Place] | None = None,
) -> SafeString:
    """The map with ``pieces`` outlined, or the ``part`` of it that holds them all.

    Each square is a link to its card. ``looks`` as in ``looks_on``.
    """
    card = reverse("drives:square", args=[board.blanket.pk, "A1"]).removesuffix("A1/")
    late = frozenset(claim.square.place for claim in board.late(now))
    piece_at = {place: there.piece for there in pieces for place in there.places}
    mine = frozenset(place for place, claim in board.claims.items() if claim.member_id == me.pk)

    def label(place: Place) -> str:
        return square_words(
            board.plan,
            place,
            board.state_of[place],
            holder=board.claims[place].member.name if place in board.claims else "",
            piece=piece_at[place].name if place in piece_at else "",
            late=place in late,
        )

    svg = map_svg(
        board.plan,
        board.state_of,
        title=_("Map of %(blanket)s") % {"blanket": board.blanket.name},
        link=lambda place: f"{card}{place}/",
        label=label,
        late=late,
        mine=mine,
        colours=looks_on(board, looks),
        pieces={there.piece.name: there.places for there in pieces},
        part=part,
    )
    return drawn(svg)


def signs(board: Board, pieces: Collection[Whereabouts] = ()) -> list[tuple[str, SafeString]]:
    """The legend: the words and the picture of each sign that this map can have."""
    layout = board.plan.layout
    keys = ["waiting", "ready", "taken", "mine", "late", "finished"] + ["piece"] * bool(pieces)
    keys += ["seam"] * bool(layout.seams) + ["missing"] * bool(layout.missing)
    return [(str(MEANINGS[sign.key]), drawn(sign.svg)) for sign in legend(keys)]
