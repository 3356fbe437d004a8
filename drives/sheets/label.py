"""The label for the bag of one piece: what it is, who gets it next, what a finder should do."""

from collections.abc import Iterator
from datetime import datetime

from django.template.loader import render_to_string
from django.utils.translation import gettext as _

from drives.actions.codes import code_of, link
from drives.actions.refusals import listed
from drives.models import Piece, Sheet
from drives.models.board import board
from drives.models.whereabouts import Whereabouts, whereabouts

from .qr import qr_svg


def parts(sheet: Sheet, now: datetime) -> list[Iterator[str]]:
    """The label, one part (see ``render.Part``): no contacts, and of people one first name.

    A piece that has ended since it was asked for has no squares any more.
    """
    return [drafts(sheet, sheet.blanket.pieces.get(pk=sheet.options["piece"]), now)]


def drafts(sheet: Sheet, piece: Piece, now: datetime) -> Iterator[str]:
    """One label."""
    there = next(iter(whereabouts(board(sheet.blanket), {piece.pk})), None)
    address = link(code_of(piece, now=now))
    facts = {
        "sheet": sheet,
        "now": now,
        "there": there,
        "squares": listed(there.places) if there else "",
        "next": _next(there) if there else "",
        "address": address,
        "code": qr_svg(address, title=_("Code that opens the page of this piece")),
    }
    yield render_to_string("sheets/label.html", facts)


def _next(there: Whereabouts) -> str:
    """The first name of who is promised the piece, else of the first in line."""
    if there.hand_over:
        name = there.hand_over.receiver.name
    elif there.line:
        name = there.line[0].member.name
    else:
        return ""
    return name.split()[0]
