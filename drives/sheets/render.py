"""A sheet's row in, its finished file out."""

from collections.abc import Callable, Iterator, Sequence
from datetime import datetime

from django.utils import timezone, translation

from drives.models import Kind, Sheet

from . import press
from .ink import in_black
from .kinds import cards, finishing, gift, label, meeting, set, status, wall

# One part of a document: drafts of it as HTML, laid out generously at first and then more and
# more closely. The first draft that needs only one page is taken, or else the last.
Part = Iterator[str]

PARTS: dict[str, Callable[[Sheet, datetime], Sequence[Part]]] = {
    Kind.STATUS: status.parts,
    Kind.CARDS: cards.parts,
    Kind.LABEL: label.parts,
    Kind.MEETING: meeting.parts,
    Kind.WALL: wall.parts,
    Kind.FINISHING: finishing.parts,
    Kind.GIFT: gift.parts,
    Kind.SET: set.parts,
}


def render(sheet: Sheet, *, now: datetime, progress: Callable[[int], None]) -> bytes:
    """The PDF of the blanket as it stands at ``now``; tells its ``progress`` in per cent.

    Everything is told in the words and by the clock of the blanket's circle, but in the English
    that was chosen.
    """
    options, circle = sheet.chosen, sheet.blanket.drive.circle
    with (
        translation.override(options.locale_in(circle)),
        timezone.override(circle.time_zone),
    ):
        progress(5)
        parts = PARTS[sheet.kind](sheet, now)
        documents = []
        for number, part in enumerate(parts, start=1):
            for draft in part:
                document = press.lay_out(draft if options.in_colour else in_black(draft))
                if len(document.pages) == 1:
                    break
            documents.append(document)
            progress(5 + 85 * number // len(parts))
    return press.pdf(documents)
