"""A finder has left a message."""

from datetime import datetime

from django.utils.text import wrap

from drives.models import FinderNote, Letter

from .content import Content, address

WIDTH = 70


def found(letter: Letter, now: datetime) -> Content | None:
    """None when somebody has seen to it already.

    The message is quoted. How to reach the finder stays on the site: it is wiped there once a
    coordinator has seen to it, which no mailbox would do.
    """
    notes = (
        FinderNote.objects.unread()
        .filter(letters=letter)
        .select_related("code__square__blanket__drive", "code__piece__blanket__drive")
    )
    note = notes.first()
    if note is None:
        return None
    blanket = note.code.blanket
    quoted = [f"> {line}".rstrip() for line in wrap(note.text, WIDTH).splitlines()]
    return Content(
        {
            "note": note,
            "target": note.code.target,
            "blanket": blanket,
            "quoted": "\n".join(quoted),
            "link": address("blanket", blanket.pk),
        }
    )
