"""Days that a plan must know: meetings of a drive, and days on which somebody does not knit."""

from datetime import date, datetime

from accounts.models import Member
from drives.actions.log import note_circle, note_drive
from drives.models import Absence, Drive, Meeting
from shared.basics.totals import require_room
from shared.basics.transactions import writing


def add_meeting(*, drive: Drive, day: date, by: Member, now: datetime) -> Meeting:
    """The circle meets on ``day``; the same again changes nothing."""
    with writing():
        meeting, new = Meeting.objects.get_or_create(drive=drive, day=day)
        if new:
            require_room("meetings", drive.meetings.all(), 0)
            note_drive(drive, by, "meeting-planned", now, day=day.isoformat())
    return meeting


def drop_meeting(*, meeting: Meeting, by: Member, now: datetime) -> None:
    """There is no meeting on that day after all."""
    with writing():
        count, _each = Meeting.objects.filter(pk=meeting.pk).delete()
        if count:
            note_drive(meeting.drive, by, "meeting-dropped", now, day=meeting.day.isoformat())


def add_absence(*, member: Member, first: date, last: date, by: Member, now: datetime) -> Absence:
    """The member does not knit from ``first`` to ``last``; the same again changes nothing."""
    with writing():
        absence, new = Absence.objects.get_or_create(member=member, first=first, last=last)
        if new:
            require_room("absences", member.absences.all(), 0)
            _note(absence, by, "absence-noted", now)
    return absence


def drop_absence(*, absence: Absence, by: Member, now: datetime) -> None:
    """They do knit on those days after all."""
    with writing():
        count, _each = Absence.objects.filter(pk=absence.pk).delete()
        if count:
            _note(absence, by, "absence-dropped", now)


def forget_absences(*, before: date) -> int:
    """Remove absences whose last day was before then, and say how many."""
    with writing():
        count, _each = Absence.objects.filter(last__lt=before).delete()
    return count


def _note(absence: Absence, by: Member, verb: str, now: datetime) -> None:
    """Without the days: when somebody is not at home is nothing to keep for good."""
    note_circle(by.circle, by, verb, now, member=absence.member_id)
