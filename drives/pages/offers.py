"""What a knitter could begin now, best first, and why."""

from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from typing import NamedTuple

from django.db.models import Exists, OuterRef

from drives.craft.places import Place
from drives.craft.states import Offer
from drives.craft.words import short_line
from drives.models import Blanket, Claim, Piece, Turn
from drives.models.board import Board, boards
from drives.pages.words import elsewhere, reasons

MOST_A_BLANKET = 3


class Elsewhere(NamedTuple):
    """A piece that somebody else has, and whether the reader waits for it."""

    piece_id: int
    holder: str
    in_line: bool


class Suggestion(NamedTuple):
    """One square that can be begun, in words.

    Taking it puts one in line for the pieces that are ``elsewhere``, if there are any.
    """

    place: Place
    colour: str
    line: str
    reasons: list[str]
    elsewhere: list[Elsewhere]

    @property
    def in_line(self) -> bool:
        return bool(self.elsewhere) and all(each.in_line for each in self.elsewhere)


class Suggested(NamedTuple):
    """The best squares of one blanket; ``ready`` counts all that can be begun."""

    blanket: Blanket
    ready: int
    best: list[Suggestion]


def suggested(
    blankets: Sequence[Blanket], in_hand: Iterable[Claim], mine: Collection[int]
) -> list[Suggested]:
    """For each blanket with ready squares, unless the drive's limit is reached ``in_hand``.

    ``mine`` are the ids of the knitter's memberships: squares whose pieces others have come last.
    Three queries for all blankets, and two for each plan not yet known.
    """
    held = Counter(claim.square.blanket.drive_id for claim in in_hand)
    room = [each for each in blankets if held[each.drive_id] < each.drive.claim_limit]
    shown = [each for each in boards(room) if each.offers]
    others = _with_others([each for each in shown if each.blanket.drive.one_pair_of_hands], mine)

    def lacks(board: Board, offer: Offer) -> list[Elsewhere]:
        """The pieces that the square stands on and others have."""
        supports = board.plan.stands_on[offer.place]
        return [others[pk] for pk in {board.piece_of[at] for at in supports} if pk in others]

    found = []
    for board in shown:
        offers = sorted(board.offers, key=lambda offer: bool(lacks(board, offer)))
        best = [_told(board, offer, lacks(board, offer)) for offer in offers[:MOST_A_BLANKET]]
        found.append(Suggested(board.blanket, len(offers), best))
    return found


def _told(board: Board, offer: Offer, lacking: list[Elsewhere]) -> Suggestion:
    return Suggestion(
        place=offer.place,
        colour=board.colours.get(offer.place, ""),
        line=short_line(board.plan.foundation(offer.place)),
        reasons=[
            *reasons(offer),
            *(elsewhere(each.holder, in_line=each.in_line) for each in lacking),
        ],
        elsewhere=lacking,
    )


def _with_others(travelling: Sequence[Board], mine: Collection[int]) -> dict[int, Elsewhere]:
    """The pieces of these blankets that others have, by their ids."""
    if not travelling:
        return {}
    held = Piece.objects.live().filter(blanket__in=[board.blanket for board in travelling])
    others = held.exclude(holder=None).exclude(holder__in=mine)
    in_line = Exists(Turn.objects.filter(piece=OuterRef("pk"), ended_at=None, member__in=mine))
    rows = others.values_list("pk", "holder__name", in_line)
    return {row[0]: Elsewhere(*row) for row in rows}
