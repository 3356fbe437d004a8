"""What strangers who scan a code on paper tell the coordinators."""

from datetime import datetime, timedelta

from accounts.actions.locks import hold_circle
from accounts.models import Member
from drives.actions import refusals
from drives.actions.circles import letters
from drives.actions.log import note_blanket
from drives.models import Code, FinderNote
from shared.basics.transactions import writing
from shared.workers.lease import believed

A_DAY = timedelta(days=1)
MOST_BY_A_CODE = 5  # in a day: who prints codes to be found must not become anybody's target
MOST_IN_A_CIRCLE = 20


def leave_note(*, code: Code, text: str, contact: str, now: datetime) -> FinderNote:
    """A message about what ``code`` stands on, for the coordinators. Refused: too-many-notes."""
    blanket = code.blanket
    with writing():
        circle = hold_circle(blanket.drive.circle_id)  # so that the limits are kept
        lately = FinderNote.objects.filter(left_at__gt=now - A_DAY, left_at__lte=believed(now))
        all_codes = Code.objects.of_circle(circle)
        if (
            lately.filter(code=code).count() >= MOST_BY_A_CODE
            or lately.filter(code__in=all_codes).count() >= MOST_IN_A_CIRCLE
        ):
            raise refusals.too_many_notes()
        note = FinderNote.objects.create(code=code, text=text, contact=contact, left_at=now)
        note_blanket(blanket, None, "note-left", now, of=str(code.target))
        letters.queue_found(note=note, now=now)
    return note


def read_note(*, note: FinderNote, by: Member, now: datetime) -> bool:
    """A coordinator has seen to it: the contact is wiped. False when somebody had done so."""
    with writing():
        unread = FinderNote.objects.unread().filter(pk=note.pk)
        if not unread.update(read_at=now, read_by=by, contact=""):
            return False
        note_blanket(note.code.blanket, by, "note-read", now, of=str(note.code.target))
    return True


def forget_notes(*, before: datetime) -> int:
    """Remove what finders wrote that was seen to before then, and say how many."""
    with writing():
        old = FinderNote.objects.filter(read_at__lt=before)
        count = old.count()
        old.delete()
    return count
