"""A sheet's row in, its finished file out."""

from collections.abc import Callable, Iterator
from datetime import datetime

from django.utils import timezone, translation

from drives.models import Kind, Sheet
from shared.words import speaking

from . import label, press, status

DRAFTS: dict[str, Callable[[Sheet, datetime], Iterator[str]]] = {
    Kind.STATUS: status.drafts,
    Kind.LABEL: label.drafts,
}


def render(sheet: Sheet, *, now: datetime, progress: Callable[[int], None]) -> bytes:
    """The PDF of the blanket as it stands at ``now``; tells its ``progress`` in per cent."""
    circle = sheet.blanket.drive.circle
    with (
        translation.override(circle.locale),
        timezone.override(circle.time_zone),
        speaking(circle.english),
    ):
        for number, draft in enumerate(DRAFTS[sheet.kind](sheet, now)):
            progress(20 + 10 * number)
            document = press.lay_out(draft)
            if len(document.pages) == 1:
                break
    progress(80)
    return press.pdf(document)
