"""A sheet's row in, its finished file out."""

from collections.abc import Callable
from datetime import datetime

from django.utils import timezone, translation

from drives.models import Sheet

from . import press
from .ink import in_black
from .kinds import PRINTED


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
        parts = PRINTED[sheet.kind].parts(sheet, now)
        documents = []
        for number, part in enumerate(parts, start=1):
            for draft in part:
                document = press.lay_out(draft if options.in_colour else in_black(draft))
                if len(document.pages) == 1:
                    break
            documents.append(document)
            progress(5 + 85 * number // len(parts))
    return press.pdf(documents)
