"""What the board shows of a blanket as it stands."""

import json
from collections.abc import Iterable, Mapping
from datetime import datetime
from hashlib import sha256

from django.utils.timezone import localdate
from django.utils.translation import get_language

from accounts.access import may
from accounts.models import Member, Role
from drives.craft.places import Place
from drives.models import Blanket, Claim, Mode
from drives.pages.common.picture import board_picture, signs
from drives.pages.common.square_words import elsewhere, reasons
from drives.pages.pieces.card import PieceCard, cards
from drives.pages.square.offers import best_first
from drives.readings.accepted import planned_places
from drives.readings.alike import with_likes
from drives.readings.board import Board, board_of
from drives.words.steps import short_line


def board_facts(
    blanket: Blanket, me: Member, now: datetime, tag: str, looks: Mapping[str, str]
) -> dict[str, object]:
    """Everything on the board that changes by itself, under its ``tag``.

    ``looks`` are those of its yarns.
    """
    board = board_of(blanket)
    # A fabric that is whole and at home needs no telling.
    told = blanket.drive.mode == Mode.TRAVELLING or len(set(board.piece_of.values())) > 1
    pieces = cards(board, me) if told else []
    outlined = [card.there for card in pieces]
    holder_of = {
        card.piece.pk: card.piece.holder_id for card in pieces if card.piece.holder_id is not None
    }
    likes = with_likes(blanket, me)
    for_others = planned_places(blanket, localdate(now), me.pk)
    claims = sorted(board.claims.values(), key=lambda claim: claim.due_at)
    return {
        "blanket": blanket,
        "me": me,
        "looks_after": may(me, Role.COORDINATOR),
        "total": len(board.plan.places),
        "finished": len(board.finished),
        "percent": board.percent,
        "map": board_picture(board, me, now, outlined, looks=looks),
        "signs": signs(board, outlined),
        "travels": blanket.drive.mode == Mode.TRAVELLING,
        "pieces": pieces,
        "ready": [
            {
                "place": offer.place,
                "line": short_line(board.plan.foundation(offer.place)),
                "colour": board.colours.get(offer.place, ""),
                "reasons": [
                    *reasons(offer),
                    *_with_others(board, offer.place, pieces),
                    *likes.get(offer.place, ()),
                ],
            }
            for offer in best_first(board, holder_of, me.pk, for_others)
        ],
        "claims": [(claim, claim.late(now)) for claim in claims],
        "late": sum(claim.late(now) for claim in claims),
        # With this header set by hand the browser hands a 304 on to htmx, which then swaps nothing.
        "headers": json.dumps({"If-None-Match": tag}),
    }


def tag(blanket: Blanket, me: Member, now: datetime, looks: Mapping[str, str]) -> str:
    """An ETag of the board as ``me`` sees it: time alone changes only what is late."""
    late = Claim.objects.overdue(now).filter(square__blanket=blanket).count()
    roles = "".join(sorted(role[0] for role in me.roles))
    # A drive's mode decides who has the pieces, and is no event of the blanket.
    mode = (blanket.drive.mode, blanket.drive.at_once)
    # How a yarn looks is told in the circle's store; what is planned may fall away by itself.
    planned = sorted(planned_places(blanket, localdate(now), me.pk))
    drawn = sha256(json.dumps([looks, planned], sort_keys=True).encode()).hexdigest()[:12]
    parts = (blanket.revision(), late, localdate(now), me.pk, roles, get_language(), *mode, drawn)
    return f'"{"-".join(map(str, parts))}"'


def _with_others(board: Board, place: Place, pieces: Iterable[PieceCard]) -> list[str]:
    """What to know of the pieces that the square needs and that others than the reader have."""
    if not board.blanket.drive.one_pair_of_hands:
        return []
    under = {board.piece_of[support] for support in board.plan.stands_on[place]}
    needed = [card for card in pieces if card.piece.pk in under and not card.rights.mine]
    return [
        elsewhere(card.piece.holder.name, in_line=card.my_turn > 0)
        for card in needed
        if card.piece.holder
    ]
