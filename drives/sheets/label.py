"""The label for the bag of one piece: what it is, who gets it next, what a finder should do."""

from collections.abc import Iterator
from datetime import datetime

import segno
from django.conf import settings
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils.translation import gettext as _

from drives.actions.refusals import listed
from drives.models import Sheet
from drives.models.board import board
from drives.models.whereabouts import Whereabouts, whereabouts


def drafts(sheet: Sheet, now: datetime) -> Iterator[str]:
    """The label as HTML, one draft; it tells no contacts, and of people one first name.

    A piece that has ended since it was asked for has no squares any more.
    """
    piece_id = sheet.options["piece"]
    there = next(iter(whereabouts(board(sheet.blanket), {piece_id})), None)
    address = settings.SITE_URL + reverse("drives:piece", args=[piece_id])
    facts = {
        "sheet": sheet,
        "now": now,
        "there": there,
        "squares": listed(there.places) if there else "",
        "next": _next(there) if there else "",
        "address": address,
        "code": _code(address),
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


def _code(address: str) -> str:
    """An ``<svg>`` of the QR code (ISO/IEC 18004), which survives a quarter of it being worn."""
    code = segno.make(address, error="q", micro=False)
    return code.svg_inline(
        border=0,
        omitsize=True,
        svgclass="code",
        lineclass=None,
        title=_("Code that opens the page of this piece"),
    )
