"""The private address of a member's calendar: made, shown once, renewed, revoked."""

import re

import pytest
from django.utils import timezone
from icalendar import Calendar

from accounts import actions
from accounts.models import Member
from drives.actions.circles.feeds import make_feed, revoke_feed
from drives.models import Feed
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import Desk, nothing_changes
from tests.pages.conftest import Reader

ADDRESS = re.compile(r'value="http://testserver(/calendar/[\w-]{43}\.ics)"')


@pytest.fixture
def desk(plan: Plan, cast: Cast) -> Desk:
    desk = plan()
    desk.claim("A1", cast.vera, at=timezone.now())
    return desk


def make(reader: Reader, circle_id: int) -> str:
    """The path that the page shows for once."""
    page = reader.post(f"/circles/{circle_id}/calendar/")
    assert "no-store" in page["Cache-Control"]
    found = ADDRESS.search(page.text)
    assert found
    return found[1]


def test_the_address_is_shown_once_and_kept_by_its_digest(
    desk: Desk, cast: Cast, vera: Reader
) -> None:
    page = f"/circles/{cast.circle.pk}/calendar/"
    assert "Make an address" in vera.read(page)
    assert f'href="{page}"' in vera.get(f"/circles/{cast.circle.pk}/").text
    address = make(vera, cast.circle.pk)
    secret = address.removeprefix("/calendar/").removesuffix(".ics")
    assert secret not in str(list(Feed.objects.values()))
    again = vera.get(page).text
    assert secret not in again
    assert "You have had an address since" in again


def test_calendar_programs_need_no_login(
    desk: Desk, cast: Cast, vera: Reader, anybody: Reader
) -> None:
    address = make(vera, cast.circle.pk)
    answer = anybody.get(address)
    assert answer["Content-Type"] == "text/calendar; charset=utf-8"
    assert answer["Cache-Control"] == "private, no-store"
    assert answer["X-Robots-Tag"] == "noindex, nofollow"
    (event,) = Calendar.from_ical(answer.content).walk("VEVENT")
    assert event["summary"] == "A1 of Blanket is due"
    again = anybody.get(address, headers={"If-None-Match": answer["ETag"]})
    assert (again.status_code, again.content, again["ETag"]) == (304, b"", answer["ETag"])
    desk.finish("A1", cast.vera, at=timezone.now())
    changed = anybody.get(address, headers={"If-None-Match": answer["ETag"]})
    assert changed.status_code == 200
    assert b"VEVENT" not in changed.content


def test_a_new_address_ends_the_one_before(
    desk: Desk, cast: Cast, vera: Reader, anybody: Reader
) -> None:
    first, second = make(vera, cast.circle.pk), make(vera, cast.circle.pk)
    assert anybody.get(first).status_code == 404
    assert anybody.get(second).status_code == 200
    told = vera.press(f"/circles/{cast.circle.pk}/calendar/revoke/")
    assert "no longer works" in told
    assert anybody.get(second).status_code == 404
    assert "Make an address" in vera.read(f"/circles/{cast.circle.pk}/calendar/")


def test_who_has_left_has_no_dates(desk: Desk, cast: Cast, vera: Reader, anybody: Reader) -> None:
    address = make(vera, cast.circle.pk)
    actions.remove_member(member=cast.vera, by=cast.olga, now=timezone.now())
    assert anybody.get(address).status_code == 404


def test_who_may_not_sign_in_has_no_dates(
    desk: Desk, cast: Cast, vera: Reader, anybody: Reader
) -> None:
    address = make(vera, cast.circle.pk)
    user = cast.vera.user
    assert user
    user.is_active = False
    user.save()
    assert anybody.get(address).status_code == 404


def test_making_and_revoking_are_nobody_elses_business(cast: Cast) -> None:
    now = timezone.now()
    make_feed(member=cast.vera, now=now)
    make_feed(member=cast.cora, now=now)
    before = cast.circle.events.count()
    assert revoke_feed(member=cast.vera, now=now)
    with nothing_changes():
        assert not revoke_feed(member=cast.vera, now=now)
    assert Feed.objects.live().get().member == cast.cora
    assert cast.circle.events.count() == before
    assert Member.objects.present().filter(pk=cast.vera.pk).exists()


def test_the_calendar_speaks_as_its_circle_not_as_the_asker(
    desk: Desk, cast: Cast, vera: Reader, anybody: Reader
) -> None:
    address = make(vera, cast.circle.pk)
    plain = anybody.get(address).content
    assert anybody.get(address, headers={"Accept-Language": "en-us"}).content == plain
