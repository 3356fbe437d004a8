"""Making, changing and reading a drive."""

from typing import Any

import pytest

from drives.models import Drive
from tests.cast import Cast
from tests.conftest import Plan
from tests.pages.conftest import Reader, words

SENT: dict[str, Any] = {
    "name": "Warm laps",
    "purpose": "For the winter.",
    "recipient": "The ward on the hill",
    "for_babies": "on",
    "deadline": "2027-01-24",
    "mode": "travelling",
    "claim_limit": 3,
    "claim_days": 10,
    "grace_days": 5,
    "at_once": "",
    "hand_over_days": 4,
}


def test_an_organiser_makes_a_drive_and_goes_on_to_plan(cast: Cast, olga: Reader) -> None:
    response = olga.post(f"/circles/{cast.circle.pk}/drives/new/", SENT)
    drive = Drive.objects.get()
    assert response.url == f"/drives/{drive.pk}/plan/"
    assert (drive.claim_limit, drive.claim_days, drive.grace_days) == (3, 10, 5)
    assert (drive.at_once, drive.room_on_a_piece, drive.hand_over_days) == (None, 1, 4)
    text = olga.read(f"/drives/{drive.pk}/")
    assert "For the winter. For The ward on the hill Wanted by 24 January 2027" in text
    assert "3 squares for each knitter At work on a piece 1 person at once" in text
    assert "Time for a square 10 days, and 5 days of grace" in text
    assert "Keep loose blankets out of the place where a baby under one year sleeps" in text


@pytest.mark.parametrize("claim_limit", [0, 21, "many"])
def test_a_limit_out_of_reason_is_said_at_its_field(
    cast: Cast, olga: Reader, claim_limit: object
) -> None:
    sent = SENT | {"claim_limit": claim_limit}
    response = olga.post(f"/circles/{cast.circle.pk}/drives/new/", sent)
    assert response.status_code == 422
    assert "Something here needs another look." in words(response)
    assert not Drive.objects.exists()


def test_settings_are_changed(olga: Reader, plan: Plan) -> None:
    drive = plan().blanket.drive
    address = f"/drives/{drive.pk}/settings/"
    assert 'value="Warm laps"' in olga.get(address).text
    assert "The settings are kept." in olga.press(address, SENT | {"name": "Cold feet"})
    drive.refresh_from_db()
    assert (drive.name, drive.mode) == ("Cold feet", "travelling")
    assert drive.passing == "after-each"  # what is not told is the usual
    olga.post(address, SENT | {"passing": "keep"})
    drive.refresh_from_db()
    assert drive.passing == "keep"


def test_only_organisers_make_and_change(
    cast: Cast, cora: Reader, vera: Reader, plan: Plan
) -> None:
    drive = plan().blanket.drive
    for person in (cora, vera):
        assert person.get(f"/circles/{cast.circle.pk}/drives/new/").status_code == 403
        assert person.post(f"/drives/{drive.pk}/settings/", SENT).status_code == 403
        assert "Plan a blanket" not in person.read(f"/drives/{drive.pk}/")
