"""Times are the circle's own: hours of the day, days of the week, and the days of two clocks."""

from datetime import UTC, datetime

import pytest

from drives.actions.circles.letters import choose_letters
from drives.letters.schedule import queue_due
from drives.models import Letter, Subject
from tests.cast import Cast
from tests.desk import DAY, NOW, Desk
from tests.letters.conftest import move, post


def at(moment: str) -> datetime:
    """In UTC."""
    return datetime.fromisoformat(moment).replace(tzinfo=UTC)


@pytest.fixture
def late(desk: Desk, cast: Cast) -> Desk:
    """Vera has been late since 16 November, 10:00 UTC."""
    desk.claim("A1", cast.vera)
    return desk


def test_nobody_is_reminded_at_night(late: Desk) -> None:
    for quiet in ("2026-11-17 07:59", "2026-11-17 20:00", "2026-11-18 00:30"):
        assert post(at(quiet)) == []
    assert len(post(at("2026-11-18 08:00"))) == 1


def test_the_last_minute_of_the_day_will_do(late: Desk) -> None:
    assert len(post(at("2026-11-17 19:59"))) == 1


def test_the_night_is_another_elsewhere(late: Desk, cast: Cast) -> None:
    move(cast.circle, time_zone="Pacific/Auckland")  # 13 hours ahead in November
    assert post(at("2026-11-17 18:59")) == []
    assert post(at("2026-11-17 10:00")) == []
    assert len(post(at("2026-11-17 19:00"))) == 1


def test_two_days_before_by_the_circles_days(late: Desk, cast: Cast) -> None:
    """Due on the 16th at 10:00 UTC: in Kiritimati that is already the 17th."""
    move(cast.circle, time_zone="Pacific/Kiritimati")
    assert post(at("2026-11-13 20:00")) == []  # 14 November, 10:00
    (letter,) = post(at("2026-11-14 20:00"))  # 15 November, 10:00
    assert "is due on Tuesday 17 November" in letter.subject


@pytest.mark.parametrize(
    ("zone", "eight"),
    [
        ("Europe/London", "2027-03-28 07:00"),  # that night the clocks went forward …
        ("Europe/London", "2026-10-25 08:00"),  # … and here back
        ("Europe/London", "2026-10-24 07:00"),
        ("America/New_York", "2027-03-14 12:00"),
        ("America/New_York", "2026-11-01 13:00"),
        ("Pacific/Auckland", "2026-09-26 19:00"),
        ("Australia/Lord_Howe", "2027-04-03 21:30"),  # half an hour back
    ],
)
def test_eight_in_the_morning_on_days_that_are_longer_or_shorter(
    desk: Desk, cast: Cast, zone: str, eight: str
) -> None:
    move(cast.circle, time_zone=zone)
    then = at(eight)
    desk.claim("A1", cast.vera, at=then - 15 * DAY)
    assert post(then - DAY / (24 * 60)) == []
    assert len(post(then)) == 1


def queued(subject: Subject) -> list[str]:
    """Of Harbour Lane."""
    letters = Letter.objects.filter(subject=subject, member__circle__name="Harbour Lane")
    return [letter.about for letter in letters]


def test_mondays_letter_is_queued_from_seven_on_until_midnight(cast: Cast) -> None:
    for other in ("2026-11-16 06:59", "2026-11-17 00:00", "2026-11-15 23:59"):
        queue_due(at(other))
    assert queued(Subject.MONDAY) == []
    queue_due(at("2026-11-16 23:50"))  # the site was away all day
    assert queued(Subject.MONDAY) == ["2026-11-16", "2026-11-16"]  # Olga and Cora
    queue_due(at("2026-11-16 23:59"))
    queue_due(at("2026-11-23 07:00"))
    assert queued(Subject.MONDAY) == ["2026-11-16"] * 2 + ["2026-11-23"] * 2


def test_saturdays_letter_is_queued_from_eight_on(desk: Desk, cast: Cast) -> None:
    choose_letters(member=cast.vera, subject=Subject.WEEKLY, wanted=True)
    move(cast.circle, time_zone="Pacific/Auckland")
    queue_due(at("2026-11-13 18:59"))
    assert queued(Subject.WEEKLY) == []
    queue_due(at("2026-11-13 19:00"))  # Saturday the 14th there, and Friday here
    queue_due(at("2026-11-13 19:10"))
    assert queued(Subject.WEEKLY) == ["2026-11-14"]
    queue_due(at("2026-11-14 12:00"))  # Sunday there, and Saturday here
    assert queued(Subject.WEEKLY) == ["2026-11-14"]


def test_each_circle_has_its_own_clock(desk: Desk, cast: Cast) -> None:
    """Stan's circle is another: it is Monday there first."""
    move(cast.stan.memberships.get().circle, time_zone="Pacific/Auckland")
    queue_due(NOW.replace(day=1, hour=20))  # Monday, 2 November, 9 in the morning there
    (letter,) = Letter.objects.select_related("member__user")
    assert letter.member.user == cast.stan
