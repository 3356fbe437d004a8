"""What a knitter could begin now, best first, and why."""

from collections import Counter
from collections.abc import Collection, Iterable, Sequence
from typing import NamedTuple

from drives.craft.places import Place
from drives.craft.states import Offer
from drives.craft.words import short_line
from drives.models import Blanket, Claim, Piece
from drives.models.board import Board, boards
from drives.pages.words import in_line_then, reasons

MOST_A_BLANKET = 3


class Suggestion(NamedTuple):
    """One square that can be begun, in words; ``asks`` if taking it only puts one in line."""

    place: Place
    colour: str
    line: str
    reasons: list[str]
    asks: bool


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

    def has_it(board: Board, offer: Offer) -> set[str]:
        """Who else has a piece that the square stands on."""
        supports = board.plan.stands_on[offer.place]
        return {others[at] for support in supports if (at := board.piece_of[support]) in others}

    found = []
    for board in shown:
        offers = sorted(board.offers, key=lambda offer: bool(has_it(board, offer)))
        best = [_told(board, offer, has_it(board, offer)) for offer in offers[:MOST_A_BLANKET]]
        found.append(Suggested(board.blanket, len(offers), best))
    return found


def _told(board: Board, offer: Offer, holders: set[str]) -> Suggestion:
    return Suggestion(
        place=offer.place,
        colour=board.colours.get(offer.place, ""),
        line=short_line(board.plan.foundation(offer.place)),
        reasons=[*reasons(offer), *map(in_line_then, sorted(holders))],
        asks=bool(holders),
    )


def _with_others(travelling: Sequence[Board], mine: Collection[int]) -> dict[int, str]:
    """The names of those who have the pieces of these blankets, but for the reader's own."""
    if not travelling:
        return {}
    held = Piece.objects.live().filter(blanket__in=[board.blanket for board in travelling])
    others = held.exclude(holder=None).exclude(holder__in=mine)
    return dict(others.values_list("pk", "holder__name"))
