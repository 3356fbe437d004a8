"""Days by a circle's clock, through summer time, leap days and midnights that are left out."""

from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shared.basics.days import DAY, begins, day_of, ends

ZONES = [
    ZoneInfo(name)
    for name in (
        "Europe/London",
        "America/New_York",
        "America/Santiago",  # the clock goes forward over midnight
        "America/Havana",  # and here back, so that midnight comes twice
        "Asia/Kathmandu",  # a quarter of an hour off
        "Australia/Lord_Howe",  # summer is half an hour
        "Pacific/Auckland",
        "Pacific/Kiritimati",
    )
]
MOMENT = timedelta.resolution
days = st.dates(date(2000, 1, 1), date(2037, 12, 30))
zones = st.sampled_from(ZONES)


@given(days, zones)
def test_a_day_is_from_its_first_moment_to_its_last(day: date, zone: ZoneInfo) -> None:
    first, last = begins(day, zone), ends(day, zone)
    assert day_of(first, zone) == day_of(last, zone) == day
    assert day_of(first - MOMENT, zone) == day - DAY
    assert day_of(last + MOMENT, zone) == day + DAY


@pytest.mark.parametrize("zone", ZONES, ids=str)
def test_every_day_of_forty_years_follows_the_one_before(zone: ZoneInfo) -> None:
    day = date(2000, 1, 1)
    while day.year < 2040:
        assert day_of(ends(day, zone), zone) == day
        assert ends(day, zone) + MOMENT == begins(day + DAY, zone)
        day += DAY


@pytest.mark.parametrize(
    ("zone", "day", "hours"),
    [
        ("Europe/London", date(2027, 3, 28), 23),
        ("Europe/London", date(2026, 10, 25), 25),
        ("Australia/Lord_Howe", date(2027, 4, 4), 24.5),
        ("America/Santiago", date(2026, 9, 6), 23),  # it begins at one
        ("America/Havana", date(2026, 11, 1), 25),
        ("Europe/London", date(2028, 2, 29), 24),
    ],
)
def test_days_that_are_longer_or_shorter(zone: str, day: date, hours: float) -> None:
    clock = ZoneInfo(zone)
    assert ends(day, clock) + MOMENT - begins(day, clock) == timedelta(hours=hours)


def test_moments_are_told_in_utc() -> None:
    last = datetime(2026, 6, 30, 22, 59, 59, 999999, tzinfo=UTC)
    assert ends(date(2026, 6, 30), ZONES[0]) == last
    assert ends(date(2026, 6, 30), ZONES[0]).tzinfo is UTC
