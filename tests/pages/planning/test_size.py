"""From the wanted size to the nearest grids."""

import pytest

from accounts.models import Circle
from drives.actions.drives.rules import note_rules
from drives.craft.receivers.rules import Rules
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW
from tests.pages.conftest import Reader, words


@pytest.fixture
def address(plan: Plan) -> str:
    return f"/drives/{plan().blanket.drive_id}/plan/"


def test_it_first_asks_for_size_and_gauge(olga: Reader, address: str) -> None:
    text = olga.read(address)
    assert "Begin with the size that the receiver wants" in text
    assert "Take" not in text


def test_grids_come_with_what_they_really_give_and_the_miss(olga: Reader, address: str) -> None:
    wanted = {"width": 90, "height": 120, "units": "cm", "gauge": 20}
    text = olga.read(address, wanted)
    # 20 stitches over 10 cm: 30 stitches a side are 15 cm, and 6 × 8 of them 90 × 120 cm.
    assert (
        "6 across, 8 up Squares 48 Stitches a side 30 Gives 90 cm × 120 cm "
        "Width as wanted Height as wanted" in text
    )
    # 22 stitches a side are 11 cm: 8 × 11 of them 88 × 121 cm.
    assert "88 cm × 121 cm Width 2 cm less Height 1 cm more" in text


def test_a_grid_leads_on_to_its_drawing(olga: Reader, address: str) -> None:
    wanted = {"width": 90, "height": 120, "units": "cm", "gauge": 20}
    response = olga.get(address, wanted)
    link = "layout/?columns=6&amp;rows=8&amp;stitches=30&amp;gauge=20.0"
    assert f'href="{address}{link}"' in response.text


def test_inches_are_asked_for_and_told_in_inches(olga: Reader, address: str) -> None:
    wanted = {"width": 36, "height": 48, "units": "in", "gauge": 20}
    text = olga.read(address, wanted)
    # 20 stitches over 4 in: 30 stitches a side are 6 in, and 6 × 8 of them 36 × 48 in.
    assert "6 across, 8 up Squares 48 Stitches a side 30 Gives 36 in × 48 in" in text


def test_the_gauge_goes_on_as_the_circle_tells_it(olga: Reader, address: str, cast: Cast) -> None:
    Circle.objects.filter(pk=cast.circle.pk).update(units="in")
    wanted = {"width": 90, "height": 120, "units": "cm", "gauge": 20}
    # 20 over 10 cm are 20 × 10.16 ÷ 10 = 20.3 over 4 inches.
    assert "gauge=20.3" in olga.get(address, wanted).text


@pytest.mark.parametrize("width", ["", "0", "-3", "wide", "nan", "inf", "100000"])
def test_a_size_that_is_none_is_said(olga: Reader, address: str, width: str) -> None:
    response = olga.get(address, {"width": width, "height": 120, "units": "cm", "gauge": 20})
    text = words(response)
    assert "Something here needs another look." in text
    assert "The nearest grids" not in text


def test_only_organisers_plan(cora: Reader, vera: Reader, stan: Reader, address: str) -> None:
    statuses = [each.get(address).status_code for each in (cora, vera, stan)]
    assert statuses == [403, 403, 404]


def test_typical_sizes_are_shown_with_their_source_and_month(olga: Reader, address: str) -> None:
    text = olga.read(address)
    assert "They are typical; ask the receiver first." in text
    assert "As published, seen in November 2026." in text
    # sjlinus.org/blankets-specifications: 45 × 60 in
    assert "a child 114 cm × 152 cm sjlinus.org/blankets-specifications" in text
    assert "a premature baby 51 cm × 51 cm to 71 cm × 71 cm" in text


def test_pressing_a_typical_size_fills_it_in(olga: Reader, address: str) -> None:
    first = olga.get(address, {"typical": "child", "units": "cm", "width": "", "gauge": ""})
    form = first.context["form"]
    assert [form[side].value() for side in ("width", "height", "gauge")] == ["114", "152", ""]
    assert "Something here needs another look." not in words(first)
    then = {"typical": "child", "units": "in", "width": 1, "height": 1, "gauge": 20}
    text = olga.read(address, then)
    # 20 stitches over 4 in: 15 stitches a side are 3 in, and 15 × 20 of them 45 × 60 in.
    assert "Gives 45 in × 60 in Width as wanted Height as wanted" in text


def test_the_grid_leaves_room_for_a_border(olga: Reader, address: str) -> None:
    wanted = {"width": 90, "height": 120, "units": "cm", "gauge": 20, "border": 5}
    response = olga.get(address, wanted)
    # 5 cm are 10 ridges; 80 × 110 cm are left: 20 stitches a side are 10 cm, 8 × 11 of them.
    assert "8 across, 11 up Squares 88 Stitches a side 20 Border 10 ridges" in words(response)
    assert "Gives 90 cm × 120 cm with its border Width as wanted" in words(response)
    assert "columns=8&amp;rows=11&amp;stitches=20&amp;gauge=20.0&amp;border=10" in response.text


def test_a_border_must_leave_room_for_squares(olga: Reader, address: str) -> None:
    wanted = {"width": 90, "height": 20, "units": "cm", "gauge": 20, "border": 10}
    assert "This border leaves no room for squares." in olga.read(address, wanted)


def test_american_circles_read_of_gauge(olga: Reader, address: str, cast: Cast) -> None:
    assert "the tension of a swatch" in olga.read(address)
    Circle.objects.filter(pk=cast.circle.pk).update(english="american")
    assert "the gauge of a swatch" in olga.read(address)


def test_at_least_so_large_where_the_receiver_takes_nothing_smaller(
    olga: Reader, address: str, cast: Cast
) -> None:
    drive = cast.circle.drives.get()
    assert 'name="at_least" id="id_at_least">' in olga.get(address).text
    note_rules(
        drive=drive, by=cast.olga, now=NOW, rules=Rules(shorter_from=60.96, longer_from=60.96)
    )
    assert 'name="at_least" id="id_at_least" checked>' in olga.get(address).text
    wanted = {"width": 61, "height": 61, "units": "cm", "gauge": 20}
    refused = "the receiver takes 61 cm or more"
    assert refused in olga.read(address, wanted)
    text = olga.read(address, wanted | {"at_least": "on"})
    assert text.count("stitches") >= 6
    assert refused not in text
    assert " less " not in text


def test_no_grid_may_be_so_large(olga: Reader, address: str) -> None:
    wanted = {"width": 900, "height": 20, "units": "in", "gauge": 60}
    assert "The nearest grids" in olga.read(address, wanted)
    text = olga.read(address, wanted | {"at_least": "on"})
    assert "No grid of the usual squares is so large: choose a smaller size." in text
    assert "The nearest grids" not in text
