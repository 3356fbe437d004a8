"""Planning a blanket, and looking at it."""

from typing import Any

import pytest

from drives.models import Blanket

from .conftest import World

GRID = {"columns": 3, "rows": 3, "stitches": 20, "name": "Dunes", "gauge": 22.5}


def test_an_organiser_plans_a_blanket_from_the_body_of_plan(world: World) -> None:
    layout = {
        "columns": 4,
        "rows": 3,
        "stitches": 18,
        "mitre": "centred",
        "missing": ["D1"],
        "large": [{"at": "A1", "size": 2}],
        "seams": [["C3", "B3"]],
        "corner_trade": False,
    }

    answer = world.olga.post(
        "blankets/", {**layout, "drive": world.drive.pk, "name": "Dunes", "gauge": "22.5"}
    )

    made = answer.json()
    assert answer.status_code == 201
    assert {name: made[name] for name in layout} == {**layout, "seams": [["B3", "C3"]]}
    assert (made["name"], made["drive"], made["gauge"]) == ("Dunes", world.drive.pk, 22.5)
    assert made["squares"] == {"waiting": 7, "ready": 1, "taken": 0, "finished": 0}
    assert world.vera.get(f"blankets/{made['id']}/").json() == made


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"gauge": 0}, "gauge"),
        ({"gauge": 22.55}, "gauge"),
        ({"gauge": "NaN"}, "gauge"),
        ({"name": "  "}, "name"),
        ({"name": "x" * 101}, "name"),
        ({"drive": "1"}, "drive"),
        ({"drive": 2**63}, "drive"),
        ({"missing": ["D4"]}, "missing"),
        ({"seams": [["A1", "C1"]]}, "seams"),
    ],
)
def test_what_cannot_be_planned_is_named(world: World, change: dict[str, Any], field: str) -> None:
    answer = world.olga.post("blankets/", {**GRID, "drive": world.drive.pk, **change})

    assert answer.status_code == 422
    assert answer.json()["type"].endswith("/invalid-plan")
    assert [error["field"] for error in answer.json()["errors"]] == [field]
    assert Blanket.objects.count() == 1


def test_only_organisers_plan_and_only_for_their_drives(world: World) -> None:
    body = {**GRID, "drive": world.drive.pk}

    answers = [caller.post("blankets/", body) for caller in (world.cora, world.vera, world.stan)]

    assert [answer.status_code for answer in answers] == [403, 403, 404]
    assert world.olga.post("blankets/", {**body, "drive": 2**62}).status_code == 404
    assert Blanket.objects.count() == 1


def test_an_id_beyond_the_database_is_not_found(world: World) -> None:
    assert world.olga.get(f"blankets/{10**30}/").status_code == 404
