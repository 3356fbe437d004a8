"""Everything that a meeting needs on paper, as one document."""

from collections import defaultdict
from collections.abc import Iterator
from datetime import datetime

from django.template.loader import render_to_string

from drives.actions.paper.documents import MOST_CARDS
from drives.craft.places import Place
from drives.models import Sheet
from drives.readings.board import Board, board

from . import cards, label, meeting, status, wall


def parts(sheet: Sheet, now: datetime) -> list[Iterator[str]]:
    """A page that says what is there, and then the documents; see ``render.Part``."""
    known = board(sheet.blanket)
    pieces = list(sheet.blanket.pieces.live()[:MOST_CARDS])
    taken, ready = _taken(known)[:MOST_CARDS], cards.ready(known)
    ready = ready[: MOST_CARDS - len(taken)]
    holders: dict[str, list[Place]] = defaultdict(list)
    for place in taken:
        holders[known.claims[place].member.name].append(place)
    facts = {
        "sheet": sheet,
        "options": sheet.chosen,
        "now": now,
        "taken": taken,
        "holders": list(holders.items()),
        "ready": ready,
        "pieces": pieces,
        "left_out": len(known.claims) + len(known.offers) - len(taken) - len(ready),
    }
    first = render_to_string("sheets/set.html", facts)
    asked = [*taken, *ready]
    return [
        iter([first]),
        *status.parts(sheet, now),
        *meeting.parts(sheet, now),
        *wall.parts(sheet, now),
        *(cards.of(sheet, known, asked, now) if asked else []),
        *label.of(sheet, known, pieces, now),
    ]


def _taken(board: Board) -> list[Place]:
    """Who gets several cards gets them together."""
    claims = board.claims.values()
    held = sorted(claims, key=lambda claim: (claim.member.name, claim.member_id, claim.due_at))
    return [claim.square.place for claim in held]
