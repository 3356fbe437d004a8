"""A member's dates, read back by a reader of calendars."""

from datetime import date, timedelta
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone
from icalendar import Calendar

from accounts.models import Member
from drives.actions.circles.calendar import add_meeting
from drives.craft.layout.layout import Layout
from drives.exports.calendar import calendar_file
from drives.models import Blanket, Drive
from tests.cast import Cast, found, login
from tests.desk import DAY, NOW, Desk, new_blanket

STRANGE = 'Commas, semicolons; back\\slashes\nand 🧶👩\u200d🦳 "needles": ' + "long " * 20 + "end"


def events(member: Member) -> dict[str, Any]:
    """By what they are about."""
    read = Calendar.from_ical(calendar_file(member, NOW))
    return {str(event["uid"]).partition("@")[0]: event for event in read.walk("VEVENT")}


def summaries(member: Member) -> set[str]:
    return {str(event["summary"]) for event in events(member).values()}


def test_a_square_is_due_on_a_day_by_the_circles_clock(desk: Desk, cast: Cast) -> None:
    at = NOW.replace(hour=23)
    claim = desk.claim("A1", cast.vera, at=at)
    with timezone.override(ZoneInfo("Pacific/Auckland")):
        event = events(cast.vera)[f"claim-{claim.pk}"]
    assert event["dtstart"].dt == date(2026, 11, 17)
    assert event["dtstart"].params["VALUE"] == "DATE"
    assert event["dtend"].dt - event["dtstart"].dt == timedelta(days=1)
    assert event["summary"] == "A1 of Blanket is due"
    assert event["dtstamp"].dt == at
    assert event["url"].endswith(f"/blankets/{desk.blanket.pk}/squares/A1/")
    assert event["transp"] == "TRANSPARENT"


def test_knitters_read_their_own_days_and_coordinators_those_of_all(desk: Desk, cast: Cast) -> None:
    desk.claim("A1", cast.vera)
    desk.finish("A1", cast.vera)
    desk.claim("A2", cast.vera)
    desk.claim("B1", cast.paul, by=cast.cora)
    other = found("Elsewhere too", login("Otto"), NOW)
    Desk(new_blanket(other, Layout(2, 2, 20))).claim("A1", other)
    assert summaries(cast.vera) == {"A2 of Blanket is due"}
    of_all = {"A2 of Blanket is due from Vera", "B1 of Blanket is due from Paul"}
    assert summaries(cast.cora) == summaries(cast.olga) == of_all


def test_meetings_and_deadlines_of_the_circle(desk: Desk, cast: Cast) -> None:
    drive = desk.blanket.drive
    Drive.objects.update(deadline=date(2026, 12, 24))
    meeting = add_meeting(drive=drive, day=date(2026, 11, 20), by=cast.cora, now=NOW)
    told = events(cast.vera)
    assert told[f"meeting-{meeting.pk}"]["dtstart"].dt == date(2026, 11, 20)
    assert told[f"meeting-{meeting.pk}"]["summary"] == "Warm laps: we meet"
    assert told[f"deadline-{drive.pk}"]["dtstart"].dt == date(2026, 12, 24)
    assert told[f"deadline-{drive.pk}"]["summary"] == "Warm laps: wanted by today"
    meeting.day = date(2026, 9, 1)  # long ago
    meeting.save()
    assert f"meeting-{meeting.pk}" not in events(cast.vera)


def test_what_is_asked_again_has_the_same_names_and_the_same_bytes(desk: Desk, cast: Cast) -> None:
    claim = desk.claim("A1", cast.vera)
    first = calendar_file(cast.vera, NOW)
    assert calendar_file(cast.vera, NOW + DAY) == first
    before = events(cast.vera)
    desk.extend("A1", cast.cora, days=7)
    after = events(cast.vera)
    assert list(before) == list(after) == [f"claim-{claim.pk}"]
    assert after[f"claim-{claim.pk}"]["dtstart"].dt == date(2026, 11, 23)


@pytest.mark.parametrize("control", ["", "\x0b\x07"])
def test_any_name_comes_back(desk: Desk, cast: Cast, control: str) -> None:
    Blanket.objects.update(name=control + STRANGE)
    desk.claim("A1", cast.vera)
    file = calendar_file(cast.vera, NOW)
    assert summaries(cast.vera) == {f"A1 of {STRANGE} is due"}
    assert max(map(len, file.split(b"\r\n"))) <= 75  # octets, RFC 5545, 3.1
    assert not set(file.replace(b"\r\n", b"")) & set(range(32))


def test_the_file_names_its_maker_and_its_circle(cast: Cast, desk: Desk) -> None:
    read = Calendar.from_ical(calendar_file(cast.vera, NOW))
    assert read["version"] == "2.0"
    assert read["prodid"] == "-//Mitrewise//Dates of a circle//EN"
    assert read["x-wr-calname"] == "Harbour Lane"
    assert read.errors == []
