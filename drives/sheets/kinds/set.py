"""Everything that a meeting needs on paper, as one document."""

from collections import defaultdict
from datetime import datetime

from django.template.loader import render_to_string
from django.utils.translation import gettext_lazy

from drives.craft.places import Place
from drives.models import Sheet
from drives.readings.board import Board, board_of
from drives.sheets.kind import Document, Part, lots_told, yarn_drawn

from .cards import MOST_CARDS, cards_of, ready_in
from .label import labels_of
from .meeting import MEETING, who_comes
from .status import STATUS
from .wall import WALL


def _everything(sheet: Sheet, now: datetime) -> list[Part]:
    """A page that says what is there, and then the documents."""
    board = board_of(sheet.blanket)
    pieces = list(sheet.blanket.pieces.live()[:MOST_CARDS])
    taken, ready = _taken(board)[:MOST_CARDS], ready_in(board)
    ready = ready[: MOST_CARDS - len(taken)]
    holders: dict[str, list[Place]] = defaultdict(list)
    for place in taken:
        holders[board.claims[place].member.name].append(place)
    facts = {
        "sheet": sheet,
        "options": sheet.chosen,
        "now": now,
        "taken": taken,
        "holders": list(holders.items()),
        "ready": ready,
        "pieces": pieces,
        "left_out": len(board.claims) + len(board.offers) - len(taken) - len(ready),
    }
    first = render_to_string("sheets/set.html", facts)
    asked = [*taken, *ready]
    return [
        iter([first]),
        *STATUS.parts(sheet, now),
        *MEETING.parts(sheet, now),
        *WALL.parts(sheet, now),
        *(cards_of(sheet, board, asked, now) if asked else []),
        *labels_of(sheet, board, pieces, now),
    ]


def _taken(board: Board) -> list[Place]:
    """Who gets several cards gets them together."""
    claims = board.claims.values()
    held = sorted(claims, key=lambda claim: (claim.member.name, claim.member_id, claim.due_at))
    return [claim.square.place for claim in held]


SET = Document(
    code="set",
    label=gettext_lazy("everything for a meeting"),
    purpose=gettext_lazy(
        "Status sheet, meeting list, wall map, a card of every square that is in hand or can be "
        "begun, and a label for every piece, as one file."
    ),
    note=gettext_lazy("What you chose above for cards and lists counts here too."),
    uses=("to_a_page", "hand", "meeting"),
    facts=lambda asked: [*who_comes(asked), *yarn_drawn(asked), lots_told(asked)],
    parts=_everything,
    style="set.css",
    usual=True,
    in_batch=True,
)
