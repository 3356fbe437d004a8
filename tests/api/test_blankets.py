"""Planning a blanket, and looking at it."""

from typing import Any

import pytest
from django.utils import timezone

from drives.actions.drives.rules import note_rules, overrule_conflict
from drives.craft.receivers.rules import Rules
from drives.models import Blanket, Drive
from drives.readings.checks import drive_checks

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
        ({"gauge": 22.555}, "gauge"),
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


def test_what_goes_against_the_receivers_rules_is_told_with_what_mends_it(world: World) -> None:
    path = f"blankets/{world.blanket.pk}/"
    assert world.vera.get(path).json()["conflicts"] == []
    # 3 squares of 20 stitches, at 20 to 10 cm, are 30 cm.
    rules = Rules(shorter_from=40, longer_from=30)
    note_rules(drive=world.drive, by=world.cast.olga, rules=rules, now=timezone.now())

    (conflict,) = world.vera.get(path).json()["conflicts"]

    told = {
        "subject": f"plan {world.blanket.pk}",
        "title": "Waves",
        "about": "shorter",
        "code": "too-small",
        "detail": "The blanket would be 30 cm on its shorter side; the receiver takes 40 cm or"
        " more: it is 10 cm short.",
        "mend": "Add columns or rows, take more stitches to a square, or a wider border.",
        "overruled": "",
    }
    assert conflict == told
    drive = Drive.objects.get(pk=world.drive.pk)
    (check,) = drive_checks(drive)
    overrule_conflict(
        drive=drive, by=world.cast.olga, check=check, reason="A doll’s.", now=timezone.now()
    )
    assert world.vera.get(path).json()["conflicts"] == [told | {"overruled": "A doll’s."}]
