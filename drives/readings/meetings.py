"""When travelling pieces change hands at meetings: the calendar's days, or every so many."""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta

from django.utils.timezone import localtime

from drives.craft.forecast.passing import Passing, meeting_days
from drives.models.calendar import Meeting
from drives.models.drive import Drive, Mode


def known_meetings(circle: int, today: date) -> dict[int, list[int]]:
    """By drive of the circle: the days of its meetings from today, past ones too; one query."""
    found: defaultdict[int, list[int]] = defaultdict(list)
    rows = Meeting.objects.filter(drive__circle=circle).order_by("day")
    for drive, day in rows.values_list("drive_id", "day"):
        found[drive].append((day - today).days)
    return dict(found)


def ahead_of(drive: Drive, known: Mapping[int, Sequence[int]], today: date) -> tuple[int, ...]:
    """In so many days pieces change hands, if they do so at meetings."""
    made = (localtime(drive.created_at).date() - today).days
    return meeting_days(known.get(drive.pk, ()), made, drive.meet_every)


def exchanges(drives: Iterable[Drive], today: date) -> dict[int, date]:
    """By drive whose pieces change hands at meetings: the next day for it; one query, or none."""
    meeting = {
        drive.pk: drive
        for drive in drives
        if drive.mode == Mode.TRAVELLING and drive.passing == Passing.MEET
    }
    known: defaultdict[int, list[int]] = defaultdict(list)
    if meeting:
        rows = Meeting.objects.filter(drive__in=meeting)
        for pk, day in rows.values_list("drive_id", "day"):
            known[pk].append((day - today).days)
    return {
        pk: today + timedelta(days=ahead_of(drive, known, today)[0])
        for pk, drive in meeting.items()
    }
