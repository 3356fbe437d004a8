"""A square is due on a day, by its circle's clock: it is late from the next day on, everywhere."""

from datetime import UTC, date, datetime, timedelta
from importlib import import_module
from zoneinfo import ZoneInfo

import pytest
from django.apps import apps
from django.db import connection
from django.test import Client
from django.utils import timezone
from hypothesis import given
from hypothesis import strategies as st

from accounts.actions import change_circle
from accounts.models import Circle
from drives.actions.circles.letters import about_claim, queue_letter
from drives.actions.squares import claims
from drives.exports.calendar import calendar_file
from drives.models import Claim, Letter, Subject
from shared.basics.days import day_of
from tests.cast import Cast, enter
from tests.desk import DAY, NOW, Desk
from tests.shared.basics.test_days import ZONES

MOMENT = timedelta.resolution
HOURS = (0.5, 8.5, 12.5, 23.5)
LAST_DAYS = [  # the day before something odd
    *((zone, date(2027, 3, 27)) for zone in ("Europe/London", "Asia/Kathmandu")),
    *((zone, date(2026, 10, 24)) for zone in ("Europe/London", "Pacific/Kiritimati")),
    *((zone, date(2027, 3, 13)) for zone in ("America/New_York", "America/Havana")),
    *((zone, date(2026, 10, 31)) for zone in ("America/New_York", "America/Havana")),
    *(("Pacific/Auckland", date(2026, 9, day)) for day in (26, 27)),
    ("America/Santiago", date(2026, 9, 5)),
    ("America/Santiago", date(2027, 4, 3)),
    ("Australia/Lord_Howe", date(2027, 4, 3)),
    ("Europe/London", date(2028, 2, 28)),
]


def lives_by(circle: Circle, zone: str) -> None:
    Circle.objects.filter(pk=circle.pk).update(time_zone=zone)


@pytest.mark.parametrize(("zone", "day"), LAST_DAYS)
@pytest.mark.parametrize("days", [1, 14])
def test_it_is_late_on_the_day_after_and_lapses_after_its_days_of_grace(
    desk: Desk, cast: Cast, zone: str, day: date, days: int
) -> None:
    lives_by(cast.circle, zone)
    type(desk.blanket.drive).objects.update(claim_days=days)
    clock, told = ZoneInfo(zone), day + days * DAY
    for hour in HOURS:
        taken = datetime(*day.timetuple()[:3], tzinfo=clock) + timedelta(hours=hour)
        if day_of(taken.astimezone(UTC), clock) != day:  # 23:30 plus an hour that was left out
            continue
        claim = desk.claim("A1", cast.vera, at=taken.astimezone(UTC))
        assert day_of(claim.due_at, clock) == told
        assert not claim.late(claim.due_at)
        assert claim.late(claim.due_at + MOMENT)
        assert day_of(claim.due_at + MOMENT, clock) == told + DAY
        late = Claim.objects.overdue
        assert not late(claim.due_at).exists()
        assert late(claim.due_at + MOMENT).get() == claim
        assert day_of(claim.lapses_at, clock) == told + 7 * DAY
        assert not claims.lapse_claim(claim=claim, now=claim.lapses_at)
        assert claims.lapse_claim(claim=claim, now=claim.lapses_at + MOMENT)
        assert desk.events()[-2].facts["due"] == told.isoformat()


@given(
    st.sampled_from(ZONES),
    st.datetimes(datetime(2020, 1, 1), datetime(2036, 1, 1)),  # noqa: DTZ001 - hypothesis's way
    st.integers(1, 60),
    st.timedeltas(timedelta(), 90 * DAY),
)
def test_late_is_what_the_calendar_on_the_wall_says(
    zone: ZoneInfo, taken: datetime, days: int, later: timedelta
) -> None:
    at = taken.replace(tzinfo=UTC)
    claim = Claim(taken_at=at, due_at=claims.due_after(days, at, zone))
    now = at + later
    assert claim.late(now) == (day_of(now, zone) > day_of(at, zone) + days * DAY)


@pytest.mark.parametrize("hour", HOURS)
def test_more_days_are_days_too(desk: Desk, cast: Cast, hour: float) -> None:
    """From the due day, or from today where that has passed: over the end of summer time."""
    lives_by(cast.circle, "America/New_York")
    clock = ZoneInfo("America/New_York")
    taken = datetime(2026, 10, 10, tzinfo=clock).astimezone(UTC) + timedelta(hours=hour)
    desk.claim("A1", cast.vera, at=taken)
    assert day_of(desk.extend("A1", cast.cora, days=8, at=taken).due_at, clock) == date(2026, 11, 1)
    assert day_of(desk.extend("A1", cast.cora, days=1, at=taken).due_at, clock) == date(2026, 11, 2)
    much_later = datetime(2026, 12, 1, 23, 59, tzinfo=clock).astimezone(UTC)
    more = desk.extend("A1", cast.cora, days=3, at=much_later)
    assert day_of(more.due_at, clock) == date(2026, 12, 4)


def test_pages_say_so_on_the_next_day(
    client: Client, desk: Desk, cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert cast.vera.user
    due = desk.claim("A1", cast.vera).due_at
    enter(client, cast.vera.user)
    board = f"/blankets/{desk.blanket.pk}/"
    for moment, late in ((due - timedelta(hours=12), False), (due + MOMENT, True)):
        monkeypatch.setattr(timezone, "now", lambda moment=moment: moment)
        assert client.get("/").context["in_hand"][0]["late"] == late
        assert (b'<span class="late">late</span>' in client.get(board).content) == late
        assert client.get(f"{board}squares/A1/").context["late"] == late
    assert b"DTSTART;VALUE=DATE:20261116" in calendar_file(cast.vera, due)


@pytest.mark.parametrize("zone", [zone.key for zone in ZONES])
def test_it_stays_due_on_its_day_where_the_circles_clock_changes(
    desk: Desk, cast: Cast, zone: str
) -> None:
    claim = desk.claim("A1", cast.vera)
    claim.square.blanket.drive.circle.refresh_from_db()
    about = about_claim(claim)
    change_circle(
        circle=cast.circle, by=cast.olga, name="Harbour Lane", units="cm", english="british",
        time_zone=zone, now=NOW,
    )  # fmt: skip
    claim = Claim.objects.select_related("square__blanket__drive__circle").get(pk=claim.pk)
    assert day_of(claim.due_at + MOMENT, ZoneInfo(zone)) == date(2026, 11, 17)
    assert day_of(claim.due_at, ZoneInfo(zone)) == date(2026, 11, 16)
    assert about_claim(claim) == about  # so no reminder comes twice


def test_nobody_has_taken_a_square_after_it_is_due(desk: Desk, cast: Cast) -> None:
    """The date line is crossed, a minute before midnight: it is the day after next over there."""
    lives_by(cast.circle, "Pacific/Niue")
    cast.circle.refresh_from_db()
    type(desk.blanket.drive).objects.update(claim_days=1)
    desk.claim("A1", cast.vera, at=datetime(2026, 11, 3, 10, 59, tzinfo=UTC))
    change_circle(
        circle=cast.circle, by=cast.olga, name="Harbour Lane", units="cm", english="british",
        time_zone="Pacific/Kiritimati", now=NOW,
    )  # fmt: skip
    assert day_of(Claim.objects.get().due_at, ZoneInfo("Pacific/Kiritimati")) == date(2026, 11, 4)


def test_claims_of_earlier_days_keep_the_day_that_was_told(desk: Desk, cast: Cast) -> None:
    """As they were: so many times 24 hours after they were taken."""
    lives_by(cast.circle, "Pacific/Kiritimati")
    ended = desk.claim("A1", cast.vera)
    desk.finish("A1", cast.vera)
    held = desk.claim("B1", cast.vera)
    old = NOW + 14 * DAY  # already the 17th over there
    Claim.objects.update(due_at=old)
    queue_letter(
        member=cast.vera, subject=Subject.DUE_SOON, claim=held, now=NOW,
        about=f"{held.pk} 2026-11-16T10:00:00",
    )  # fmt: skip
    migration = import_module("drives.migrations.0013_due_days")
    for _again in range(2):
        migration.due_days(apps, connection.schema_editor())
    last = datetime(2026, 11, 17, 9, 59, 59, 999999, tzinfo=UTC)
    assert set(Claim.objects.values_list("pk", "due_at")) == {(ended.pk, last), (held.pk, last)}
    assert Letter.objects.get().about == f"{held.pk} 2026-11-17"
