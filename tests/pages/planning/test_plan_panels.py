"""Panels of a blanket that is only drawn: compared, shared out, taken into the drawing."""

import re
from html import unescape

import pytest
from pytest_django import DjangoAssertNumQueries

from drives.models import Blanket, Sheet
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import new_drive
from tests.pages.conftest import Reader

DRAWN = {"columns": "6", "rows": "6", "stitches": "20", "gauge": "20", "name": "Waves"}


@pytest.fixture
def drive(cast: Cast) -> int:
    return new_drive(cast.olga, at_once=1).pk


def path(drive: int) -> str:
    return f"/drives/{drive}/plan/panels/"


def test_the_planner_leads_there_and_back_with_the_seams(olga: Reader, drive: int) -> None:
    planner = olga.get(f"/drives/{drive}/plan/layout/", DRAWN).content.decode()
    there = re.search(rf'href="({path(drive)}[^"]+)"', planner)
    assert there
    page = olga.get(unescape(there[1]) + "&volunteers=4").content.decode()
    ways = re.findall(
        r'href="([^"]+)"\s*>Draw it so<span class="unseen">:\s+4 panels, cut both ways', page
    )
    back = [unescape(way) for way in ways]
    assert [way for way in back if "seams=C%E2%80%93D+3%E2%80%934" in way]
    for way in back:
        assert "name=Waves" in way
        assert "gauge=20" in way
    drawn = olga.get(back[-1]).content.decode()
    assert "C–D 3–4" in drawn
    assert not Blanket.objects.exists()
    assert not Sheet.objects.exists()


def test_it_says_days_sewing_and_who(olga: Reader, drive: int) -> None:
    told = olga.read(path(drive), DRAWN | {"volunteers": "4"})
    assert "4 panels, cut both ways" in told
    assert "120 cm" in told
    assert "A1–C3: " in told
    for name in ("Olga", "Paul", "Vera", "1 more person"):
        assert name in told


def test_who_knits_alike_is_known_from_other_blankets(plan: Plan, olga: Reader, cast: Cast) -> None:
    """Vera and Olga knit loosely and Paul tightly: in two panels, he is with neither."""
    desk = plan(3, 1)
    desk.knit("A1", cast.vera)
    desk.knit("B1", cast.paul)
    desk.knit("C1", cast.olga)
    for place, side in (("A1", "11"), ("B1", "9"), ("C1", "10.8")):
        address = f"/blankets/{desk.blanket.pk}/squares/{place}/measure/"
        olga.press(address, {"width": side, "height": side, "needle": "4"})
    told = olga.read(path(desk.blanket.drive_id), DRAWN | {"columns": "4", "rows": "4"})
    assert "A1" in told
    assert "Paul and" not in told
    assert "and Paul" not in told


def test_a_large_one_is_compared_once_it_is_made(olga: Reader, drive: int) -> None:
    told = olga.read(path(drive), DRAWN | {"columns": "40", "rows": "40"})
    assert "Up to 1000 squares can be compared here" in told


def test_what_cannot_be_knitted_goes_back_to_the_drawing(olga: Reader, drive: int) -> None:
    for wrong in ({"columns": "0"}, {"missing": "Z9"}, {"gauge": "much"}):
        answer = olga.get(path(drive), DRAWN | wrong)
        assert answer.status_code == 302
        assert answer["Location"].startswith(f"/drives/{drive}/plan/layout/?")
    assert olga.get(path(drive), DRAWN | {"volunteers": "0"}).status_code == 422
    assert olga.get(path(drive), DRAWN | {"volunteers": "61"}).status_code == 422


@pytest.mark.parametrize("side", ["2", "5"])
def test_it_costs_the_same_queries_at_every_size(
    olga: Reader, drive: int, side: str, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    drawn = DRAWN | {"columns": side, "rows": side}
    olga.get(path(drive), drawn)
    with django_assert_num_queries(13):
        olga.get(path(drive), drawn)
