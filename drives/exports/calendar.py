"""A member's dates as an iCalendar file (RFC 5545)."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from urllib.parse import urlsplit

from django.conf import settings
from django.db.models import Prefetch
from django.urls import reverse
from django.utils.timezone import localdate
from django.utils.translation import gettext as _
from icalendar import Calendar, Event

from accounts.access import may
from accounts.models import Member, Role
from drives.models import Claim, Drive, Meeting

from .plain import plain

PAST = timedelta(days=60)  # how long a day that is over is still told
ASK_EVERY = timedelta(hours=6)


def calendar_file(member: Member, now: datetime) -> bytes:
    """The days on which ``member``'s squares are due, and the days of the circle's drives.

    Coordinators and organisers also see when the squares of others are due. The same state gives
    the same bytes. The circle's words and clock are to be active.
    """
    made = Calendar()
    made.add("prodid", "-//Mitrewise//Dates of a circle//EN")
    made.add("version", "2.0")
    made.add("method", "PUBLISH")
    name = " ".join(plain(member.circle.name).split())
    made.add("name", name)
    made.add("x-wr-calname", name)
    made.add("refresh-interval", ASK_EVERY, parameters={"value": "DURATION"})
    for event in (*_squares(member), *_drives(member, localdate(now) - PAST)):
        made.add_component(event)
    dates: bytes = made.to_ical()
    return dates


def _squares(member: Member) -> Iterator[Event]:
    held = Claim.objects.open().filter(member__circle=member.circle_id)
    if not may(member, Role.COORDINATOR):
        held = held.filter(member=member)
    for claim in held.select_related("member", "square__blanket").order_by("due_at", "pk"):
        square = claim.square
        told = {"place": square, "blanket": square.blanket, "name": claim.member.name}
        own = claim.member_id == member.pk
        yield _day(
            f"claim-{claim.pk}",
            localdate(claim.due_at),
            _("%(place)s of %(blanket)s is due") % told
            if own
            else _("%(place)s of %(blanket)s is due from %(name)s") % told,
            reverse("drives:square", args=[square.blanket_id, square.place]),
            claim.taken_at,
        )


def _drives(member: Member, since: date) -> Iterator[Event]:
    meetings = Prefetch("meetings", Meeting.objects.filter(day__gte=since))
    drives = Drive.objects.filter(circle=member.circle_id).prefetch_related(meetings)
    for drive in drives.order_by("pk"):
        told = {"drive": drive}
        page = reverse("drives:drive", args=[drive.pk])
        for meeting in drive.meetings.all():
            words = _("%(drive)s: we meet") % told
            yield _day(f"meeting-{meeting.pk}", meeting.day, words, page, drive.created_at)
        if drive.deadline and drive.deadline >= since:
            words = _("%(drive)s: wanted by today") % told
            yield _day(f"deadline-{drive.pk}", drive.deadline, words, page, drive.created_at)


def _day(uid: str, day: date, words: str, page: str, noted: datetime) -> Event:
    """A whole day, on which the reader is not thought to be busy."""
    event = Event()
    event.add("uid", f"{uid}@{urlsplit(settings.SITE_URL).hostname}")
    event.add("dtstamp", noted)
    event.add("dtstart", day)
    if day < date.max:
        event.add("dtend", day + timedelta(days=1))
    event.add("summary", plain(words))
    event.add("url", settings.SITE_URL + page)
    event.add("transp", "TRANSPARENT")
    return event
