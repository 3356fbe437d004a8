"""What a knitter could begin now, best first, and why."""

from collections import Counter
from collections.abc import Iterable, Sequence
from functools import reduce
from operator import or_
from typing import NamedTuple

from django.db.models import Q
from django.utils.translation import gettext as _

from drives.craft.places import Place
from drives.craft.words import short_line
from drives.models import Blanket, Claim, Mode, Square
from drives.models.board import boards
from drives.pages.words import reasons

MOST_A_BLANKET = 3


class Suggestion(NamedTuple):
    """One square that can be begun, in words."""

    place: Place
    colour: str
    line: str
    reasons: list[str]


class Suggested(NamedTuple):
    """The best squares of one blanket; ``ready`` counts all that can be begun."""

    blanket: Blanket
    ready: int
    best: list[Suggestion]


def suggested(blankets: Sequence[Blanket], in_hand: Iterable[Claim]) -> list[Suggested]:
    """For each blanket with ready squares, unless the drive's limit is reached ``in_hand``.

    Three queries for all blankets, and two for each plan not yet known.
    """
    held = Counter(claim.square.blanket.drive_id for claim in in_hand)
    room = [each for each in blankets if held[each.drive_id] < each.drive.claim_limit]
    shown = [each for each in boards(room) if each.offers]
    holders = _holders(
        {
            (board.blanket.pk, support)
            for board in shown
            if board.blanket.drive.mode == Mode.TRAVELLING
            for offer in board.offers[:MOST_A_BLANKET]
            for support in board.plan.stands_on[offer.place]
        }
    )
    found = []
    for board in shown:
        best = []
        for offer in board.offers[:MOST_A_BLANKET]:
            supports = board.plan.stands_on[offer.place]
            names = {holders.get((board.blanket.pk, support), "") for support in supports}
            where = [_("Its piece is with %(name)s.") % {"name": name} for name in names if name]
            best.append(
                Suggestion(
                    place=offer.place,
                    colour=board.colours.get(offer.place, ""),
                    line=short_line(board.plan.foundation(offer.place)),
                    reasons=[*reasons(offer), *where],
                )
            )
        found.append(Suggested(board.blanket, len(board.offers), best))
    return found


def _holders(squares: set[tuple[int, Place]]) -> dict[tuple[int, Place], str]:
    """Who has the piece that each of these squares is part of; only pieces that somebody has."""
    if not squares:
        return {}
    wanted = reduce(or_, (Q(blanket=pk, column=at.column, row=at.row) for pk, at in squares))
    held = Square.objects.filter(wanted, piece__holder__isnull=False)
    values = held.values_list("blanket_id", "column", "row", "piece__holder__name")
    return {(pk, Place(column, row)): name for pk, column, row, name in values}
