"""Changing the layout of a blanket."""

from typing import Any

from tests.cast import Cast
from tests.conftest import Plan
from tests.pages.conftest import Reader, words

GRID: dict[str, Any] = {
    "columns": 2, "rows": 2, "stitches": 20, "mitre": "paired", "corner_trade": "on",
    "missing": "", "large": "", "seams": "", "brush": 1, "past": "", "do": "save",
}  # fmt: skip


def test_it_opens_with_the_layout_as_it_is(olga: Reader, plan: Plan) -> None:
    address = f"/blankets/{plan().blanket.pk}/layout/"
    olga.press(address, GRID | {"missing": "B2", "seams": "A1–B1"})
    form = olga.get(address).context["form"]
    assert [form[name].value() for name in ("columns", "missing", "seams")] == [2, "B2", "A1–B1"]


def test_what_is_not_begun_can_change(cast: Cast, olga: Reader, plan: Plan) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    text = olga.press(f"/blankets/{desk.blanket.pk}/layout/", GRID | {"missing": "B2"})
    assert "The layout is changed." in text
    assert "1 of 3 squares finished" in text


def test_what_is_begun_stays_and_is_named(cast: Cast, olga: Reader, plan: Plan) -> None:
    desk = plan()
    desk.knit("A1", cast.vera)
    response = olga.post(f"/blankets/{desk.blanket.pk}/layout/", GRID | {"missing": "A1"})
    assert response.status_code == 409
    assert "this would change A1." in words(response)
    assert desk.blanket.squares.count() == 4


def test_showing_changes_nothing(olga: Reader, plan: Plan) -> None:
    desk = plan()
    response = olga.get(f"/blankets/{desk.blanket.pk}/layout/", GRID | {"press": "B2"})
    assert response.context["form"]["missing"].value() == "B2"
    assert desk.blanket.squares.count() == 4


def test_only_organisers_change_it(cora: Reader, vera: Reader, stan: Reader, plan: Plan) -> None:
    address = f"/blankets/{plan().blanket.pk}/layout/"
    statuses = [each.post(address, GRID).status_code for each in (cora, vera, stan)]
    assert statuses == [403, 403, 404]
