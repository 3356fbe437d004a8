"""The page that says what must be begun by when."""

import re
from datetime import timedelta

import pytest
from django.utils import timezone

from drives.models import Sheet, Status
from drives.sheets.tasks import render_sheet
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import DAY, Desk
from tests.pages.conftest import Reader

pytestmark = pytest.mark.usefixtures("own_files")


def path(desk: Desk) -> str:
    return f"/blankets/{desk.blanket.pk}/rota/"


def made(desk: Desk, reader: Reader) -> str:
    """The words of the page once the worker has done its part."""
    reader.post(path(desk))
    for sheet in Sheet.objects.filter(status=Status.QUEUED):
        render_sheet(sheet_id=sheet.pk)
    return reader.read(path(desk))


def test_from_asking_to_the_answer(plan: Plan, vera: Reader) -> None:
    desk = plan(3, 3, deadline=timezone.localdate() + 300 * DAY)
    assert "This has not been worked out yet" in vera.read(path(desk))
    told = made(desk, vera)
    assert "9 squares are left: that is 0.2 a week until" in told
    assert "In the last 4 weeks you finished 0 a week." in told
    assert "For a chance of 50 %, 1 knitter is enough. For a chance of 90 %, " in told
    assert "The most pressing squares Square" in told
    assert "A1" in told
    assert "All other squares" not in told
    assert "Work it out" not in told
    assert "The next three weeks" in told
    assert re.search(r"(Olga|Paul|Vera) A1 .* 8 squares wait for it, and there is time", told)


def test_what_is_short_is_said(plan: Plan, vera: Reader) -> None:
    told = made(plan(3, 4, deadline=timezone.localdate() + timedelta(days=1)), vera)
    assert re.search(r"cannot be kept as things stand|chance of (less than )?1 %", told)
    assert "More hands alone will not do" in told
    assert "days short" in told
    assert "already too late" in told
    assert "All other squares" in told


def test_without_a_wanted_day_an_organiser_is_led_to_where_it_is_set(
    plan: Plan, vera: Reader, olga: Reader
) -> None:
    desk = plan(2, 2)
    told = made(desk, vera)
    assert "This drive has no wanted day" in told
    assert "the drive’s settings" not in told
    assert "the drive’s settings" in olga.read(path(desk))


def test_an_old_one_is_shown_with_its_age(plan: Plan, cast: Cast, vera: Reader) -> None:
    desk = plan(2, 2, deadline=timezone.localdate() + 60 * DAY)
    made(desk, vera)
    desk.claim("A1", cast.vera, at=timezone.now())
    told = vera.read(path(desk))
    assert "This is how it stood on" in told
    assert "A1" in told
    assert "Work it out" in told


def test_who_looks_after_the_blanket_takes_a_ready_square_for_whom_it_is_meant(
    plan: Plan, vera: Reader, cora: Reader
) -> None:
    desk = plan(2, 2, deadline=timezone.localdate() + 60 * DAY)
    assert "Take A1 for" not in made(desk, vera)
    page = cora.get(path(desk)).content.decode()
    (form,) = re.findall(r'<form method="post" action="([^"]+claim-for/)">(.*?)</form>', page, re.S)
    (member,) = re.findall(r'name="member" value="(\d+)"', form[1])
    assert cora.post(form[0], {"member": member}).status_code == 302
    assert desk.square("A1").claims.get().member_id == int(member)
    assert "Take A1 for" not in cora.read(path(desk))


def test_a_coordinator_accepts_a_line_changes_it_and_takes_all_back(
    plan: Plan, cast: Cast, vera: Reader, cora: Reader
) -> None:
    desk = plan(2, 2, deadline=timezone.localdate() + 60 * DAY)
    assert "Accept" not in made(desk, vera)
    page = cora.get(path(desk)).content.decode()
    (form,) = re.findall(r'<form method="post" action="([^"]+/rota/A1/)">(.*?)</form>', page, re.S)
    sent = dict(re.findall(r'name="(member|begin)" value="([^"]+)"', form[1]))
    assert cora.post(form[0], sent).status_code == 302
    assert "Planned. This was agreed." in cora.read(path(desk))
    changed = sent | {"member": cast.vera.pk, "begin": (timezone.localdate() + DAY).isoformat()}
    assert cora.post(form[0], changed).status_code == 302
    assert "Planned for you." in vera.read(path(desk))
    assert "Planned for Vera, from" in cora.read(form[0])
    (seen,) = re.findall(r'href="([^"]+/rota/accept/[^"]+)"', page)
    (hidden,) = re.findall(r'name="seen" value="([^"]+)"', cora.get(seen).content.decode())
    assert cora.post(seen, {"seen": hidden}).status_code == 302
    made(desk, cora)  # worked out anew
    assert cora.post(seen, {"seen": hidden}).status_code == 409
    assert desk.blanket.squares.filter(rota_lines__begin__isnull=False).count() > 1
    assert cora.post(f"{path(desk)}A1/decline/", {"member": cast.vera.pk}).status_code == 302
    assert "Not for Vera." in cora.read(form[0])
    assert cora.post(f"{path(desk)}take-back/").status_code == 302
    assert not desk.blanket.squares.filter(rota_lines__isnull=False).exists()
