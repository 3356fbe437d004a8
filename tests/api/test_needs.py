"""What a blanket takes, and the sizes that come near a wish."""

from typing import Any

import pytest
from django.test import override_settings
from pytest_django import DjangoAssertNumQueries

from drives.api import examples
from drives.craft.layout.layout import Layout
from drives.craft.receivers.sizes import AS_OF, TYPICAL

from .conftest import Api, World

WISH = {"width": 90, "height": 120, "gauge": 20}


@pytest.mark.parametrize(
    ("path", "both"), [("plan/needs/", examples.NEEDS), ("plan/sizes/", examples.SIZES)]
)
def test_the_examples_are_what_is_answered(anybody: Api, path: str, both: Any) -> None:
    asked, told = (example.value for example in both)
    answer = anybody.post(path, asked).json()
    if "sizes" in answer:
        answer = {"sizes": answer["sizes"][:1]}

    assert answer == told


def test_a_hole_and_a_large_square_are_counted(anybody: Api) -> None:
    """TRADE.md: two ends to a square, a stitch for each ridge outside and none in the hole."""
    body = {"columns": 5, "rows": 3, "stitches": 10, "gauge": 20}
    parts = {"large": [{"at": "A1", "size": 2}], "missing": ["D2"], "seams": [["C1", "D1"]]}

    told = anybody.post("plan/needs/", body | parts).json()

    assert told["squares"] == 5 * 3 - 1 - 3
    assert told["stitches"] == 10 * 221 + 841
    assert (told["size"], told["holes"]) == ({"width": 25.0, "height": 15.0}, ["D2"])
    assert told["border"]["total"] == 2 * (50 + 30) + 4
    assert told["finishing"] == {"ends": 22, "seams": 1, "markers": 11}


def test_the_hours_rest_on_a_usual_pace_or_on_the_clock(anybody: Api) -> None:
    body = {"columns": 2, "rows": 2, "stitches": 20, "gauge": 20}

    usual, timed = (
        anybody.post("plan/needs/", body | more).json()["hours"]
        for more in ({}, {"minutes": [30, 60, 45]})
    )

    ends = 4 * 8.6 / 273
    assert (usual["by_clock"], timed["by_clock"]) == (0, 3)
    assert usual["low"] == pytest.approx(4 * 841 / 30 / 60 + ends)
    assert (timed["low"], timed["high"]) == (pytest.approx(2 + ends), pytest.approx(4 + ends))


def test_a_blanket_takes_what_its_layout_takes(world: World) -> None:
    path = f"blankets/{world.blanket.pk}/needs/"
    layout = {"columns": 3, "rows": 3, "stitches": 20, "gauge": 20}

    plain = world.vera.get(path).json()
    more = world.vera.get(path, border=4, minutes=[40, 45]).json()

    assert plain == world.anybody.post("plan/needs/", layout).json()
    told = {"border": 4, "minutes": [40, 45]}
    assert more == world.anybody.post("plan/needs/", layout | told).json()
    assert (more["size"]["width"], more["hours"]["by_clock"]) == (34.0, 2)


@pytest.mark.parametrize(
    ("asked", "field"),
    [({"border": 101}, "border"), ({"border": "wide"}, "border"), ({"minutes": 0}, "minutes")],
)
def test_what_is_wrong_in_the_address_is_named(
    world: World, asked: dict[str, Any], field: str
) -> None:
    answer = world.vera.get(f"blankets/{world.blanket.pk}/needs/", **asked)

    assert answer.status_code == 422
    assert answer.json()["errors"][0]["field"] == field


@pytest.mark.parametrize("wrong", [True, "40", 0, 10**400, None])
def test_a_number_is_a_number(anybody: Api, wrong: Any) -> None:
    answer = anybody.post("plan/sizes/", WISH | {"width": wrong})

    assert [error["field"] for error in answer.json()["errors"]] == ["width"]


def test_no_size_is_smaller_than_wanted_where_that_is_asked(anybody: Api) -> None:
    near, enough = (
        anybody.post("plan/sizes/", WISH | {"at_least": at_least}).json()["sizes"]
        for at_least in (False, True)
    )

    assert any(min(size["width_miss"], size["height_miss"]) < 0 for size in near)
    assert len(enough) == 6
    for size in enough:
        assert (size["width"] >= 90, size["height"] >= 120) == (True, True)
        assert size["width"] == pytest.approx(size["columns"] * size["stitches"] / 2)
        assert size["width_miss"] == pytest.approx(size["width"] - 90)


def test_a_border_takes_its_room(anybody: Api) -> None:
    with_border = anybody.post("plan/sizes/", WISH | {"border": 10}).json()["sizes"]
    none = anybody.post("plan/sizes/", WISH | {"width": 10, "border": 10})

    for size in with_border:
        assert size["width"] == pytest.approx(10 + size["columns"] * size["stitches"] / 2)
    assert none.status_code == 422
    assert none.json()["type"].endswith("/invalid-input")
    assert [error["field"] for error in none.json()["errors"]] == ["border"]


def test_a_larger_blanket_takes_no_more_queries(
    world: World, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    world.vera.get("circles/")  # from here on the key counts as lately used
    for blanket in (world.blanket, world.plan(Layout(6, 6, 20))):
        with django_assert_num_queries(6):  # key, blanket, membership, the three of its plan
            world.vera.get(f"blankets/{blanket.pk}/needs/")


def test_a_large_layout_counts_by_its_places(anybody: Api) -> None:
    body = {"columns": 10, "rows": 20, "stitches": 20, "gauge": 20}
    with override_settings(LIMITS={"plans": {"address": "250/hour"}}):
        answers = [anybody.post("plan/needs/", body).status_code for _time in range(2)]

    assert answers == [200, 429]


def test_what_the_receiver_would_refuse_of_a_size_is_told(world: World) -> None:
    drive = world.blanket.drive
    rules = {"rules": {"shorter_to": 60, "longer_to": 100}}
    assert world.olga.put(f"drives/{drive.pk}/rules/", rules).status_code == 200

    alone = world.vera.post("plan/sizes/", WISH).json()["sizes"]
    told = world.vera.post("plan/sizes/", WISH | {"drive": drive.pk}).json()["sizes"]

    assert {len(each["conflicts"]) for each in alone} == {0}
    assert {each["code"] for size in told for each in size["conflicts"]}
    assert all(each["detail"] and each["mend"] for size in told for each in size["conflicts"])
    assert all(size["conflicts"] for size in told if size["height"] > 100)


def test_typical_sizes_are_those_of_the_planner(anybody: Api) -> None:
    told = anybody.get("plan/typical-sizes/").json()
    (cot,) = (each for each in told["sizes"] if each["use"] == "cot")
    assert (cot["width"], cot["height"], cot["width_to"]) == (91.44, 137.16, None)
    assert told["as_of"] == AS_OF
    assert len(told["sizes"]) == len(TYPICAL)
