"""Labels for the bags of pieces: what it is, who gets it next, what a finder should do."""

from collections.abc import Sequence
from datetime import datetime
from urllib.parse import urlsplit

from django.conf import settings
from django.template.loader import render_to_string
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from drives.actions.conditions import require_live
from drives.actions.paper.codes import code_of, link
from drives.actions.paper.kind import Asked
from drives.actions.refusals import place_names
from drives.craft.places import Place
from drives.models import Blanket, Options, Piece, Sheet, Turn
from drives.readings.board import Board, board_of
from drives.readings.whereabouts import Whereabouts, whereabouts
from drives.sheets.kind import Document, Part, minded
from drives.sheets.qr import qr_svg
from shared.basics.lists import listed

ON_A_PAGE = 4  # of large print one
MOST_SQUARES_LISTED = 20  # squares


def _asked_for(sheet: Sheet, now: datetime) -> list[Part]:
    """No contacts, and of people one first name.

    A piece that has ended since it was asked for has no squares any more.
    """
    pieces = sheet.blanket.pieces.filter(pk__in=[sheet.chosen.piece])
    return labels_of(sheet, board_of(sheet.blanket), list(pieces), now)


def labels_of(sheet: Sheet, board: Board, pieces: Sequence[Piece], now: datetime) -> list[Part]:
    """The labels of these pieces, as many parts as pages."""
    there = {each.piece.pk: each for each in whereabouts(board, {piece.pk for piece in pieces})}
    labels = [_label(piece, there.get(piece.pk), now) for piece in pieces]
    most = 1 if sheet.chosen.large else ON_A_PAGE
    pages = [labels[at : at + most] for at in range(0, len(labels), most)]
    facts = {
        "sheet": sheet,
        "options": sheet.chosen,
        "now": now,
        "host": urlsplit(settings.SITE_URL).netloc,
    }
    return [
        iter([render_to_string("sheets/label.html", facts | {"labels": page})]) for page in pages
    ]


def _label(piece: Piece, there: Whereabouts | None, now: datetime) -> dict[str, object]:
    return {
        "piece": piece,
        "there": there,
        "squares": _squares(there.places) if there else "",
        "next": _next(there) if there else "",
        "code": qr_svg(
            link(code_of(piece, now=now)),
            title=_("Code that opens the page of the piece %(piece)s") % {"piece": piece},
        ),
    }


def _squares(places: Sequence[Place]) -> str:
    more = len(places) - MOST_SQUARES_LISTED
    if more <= 1:
        return listed(places)
    first = ", ".join(place_names(places[:MOST_SQUARES_LISTED]))
    return _("%(first)s and %(more)d more") % {"first": first, "more": more}


def _next(there: Whereabouts) -> str:
    """The first name of who is promised the piece, else of the first in line."""
    if there.hand_over:
        name = there.hand_over.receiver.name
    elif there.queue:
        name = there.queue[0].member.name
    else:
        return ""
    return name.split()[0]


def _who_waits(asked: Asked) -> list[object]:
    """Facts: those in line for the piece, whose names may change."""
    waiting = Turn.objects.waiting().filter(piece=asked.options["piece"])
    return [*minded(asked), list(waiting.values_list("pk", "member__name"))]


def _still_there(blanket: Blanket, options: Options) -> None:
    """Refused: piece-is-no-more."""
    assert options.piece is not None
    require_live(Piece.objects.get(blanket=blanket, pk=options.piece))


LABEL = Document(
    code="label",
    label=gettext_lazy("label for a bag"),
    purpose=gettext_lazy("For the bag of a piece, with what a finder should do."),
    uses=("piece",),
    needs=("piece",),
    check=_still_there,
    facts=_who_waits,
    parts=_asked_for,
    style="label.css",
    members_read=True,
    members_ask=lambda blanket, member, options: True,
)
