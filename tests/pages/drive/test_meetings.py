"""Meetings of a drive, and days away."""

from datetime import timedelta

import pytest
from django.utils import timezone

from drives.models import Absence, Meeting
from tests.cast import Cast
from tests.conftest import Plan
from tests.pages.conftest import Reader, words


def day(count: int) -> str:
    return (timezone.localdate() + timedelta(days=count)).isoformat()


def test_coordinators_note_meetings_and_all_see_those_to_come(
    cora: Reader, vera: Reader, plan: Plan
) -> None:
    drive = plan().blanket.drive
    address = f"/drives/{drive.pk}/meetings/"
    assert "No meeting is noted." in vera.read(address)
    assert "Note the meeting" not in vera.read(address)
    for count in (5, -2, 5):
        assert "The meeting is noted." in cora.press(address, {"day": day(count)})
    assert Meeting.objects.count() == 2
    coming = timezone.localdate() + timedelta(days=5)
    assert f"{coming:%A}, {coming.day} {coming:%B %Y}" in vera.read(address)
    assert f"next on {coming:%A}, {coming.day} {coming:%B}" in vera.read(f"/drives/{drive.pk}/")
    assert vera.post(address, {"day": day(6)}).status_code == 403

    meeting = Meeting.objects.get(day=coming)
    assert vera.post(f"{address}{meeting.pk}/drop/").status_code == 403
    assert "No meeting is noted." in cora.press(f"{address}{meeting.pk}/drop/")


def test_everybody_notes_their_own_days_away(cast: Cast, vera: Reader, cora: Reader) -> None:
    address = f"/circles/{cast.circle.pk}/away/"
    text = vera.press(address, {"first": day(1), "last": day(8)})
    assert "The days are noted." in text
    assert "You:" in text
    absence = Absence.objects.get()
    assert absence.member == cast.vera
    assert "Vera:" in cora.read(address)
    assert "None is noted." in vera.press(f"{address}{absence.pk}/drop/")


def test_coordinators_note_the_days_of_those_on_paper(
    cast: Cast, vera: Reader, cora: Reader
) -> None:
    address = f"/circles/{cast.circle.pk}/away/"
    cora.press(address, {"member": cast.paul.pk, "first": day(1), "last": day(1)})
    assert Absence.objects.get().member == cast.paul
    assert "Paul" not in vera.read(address)
    vera.press(address, {"member": cast.paul.pk, "first": day(2), "last": day(2)})
    assert Absence.objects.latest("pk").member == cast.vera
    assert vera.post(f"{address}{Absence.objects.earliest('pk').pk}/drop/").status_code == 404


@pytest.mark.parametrize("sent", [{}, {"first": "2030-01-09", "last": "2030-01-05"}])
def test_days_that_are_none_are_said_at_their_field(
    cast: Cast, vera: Reader, sent: dict[str, str]
) -> None:
    response = vera.post(f"/circles/{cast.circle.pk}/away/", sent)
    assert response.status_code == 422
    if sent:
        assert "The last day comes before the first." in words(response)
    assert not Absence.objects.exists()
