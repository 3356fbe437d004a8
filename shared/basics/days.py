"""Days by a circle's clock: they may be 23 or 25 hours long, and midnight may be left out."""

from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

DAY = timedelta(days=1)


def day_of(moment: datetime, zone: ZoneInfo) -> date:
    return moment.astimezone(zone).date()


def begins(day: date, zone: ZoneInfo) -> datetime:
    """The first moment of ``day``, in UTC.

    Where the clock goes back over midnight this is the first of both; where it leaves midnight
    out, the moment at which it does so.
    """
    return datetime.combine(day, time.min, zone).astimezone(UTC)


def ends(day: date, zone: ZoneInfo) -> datetime:
    """The last moment of ``day``, in UTC: a microsecond later it is the next one."""
    return begins(day + DAY, zone) - timedelta.resolution
