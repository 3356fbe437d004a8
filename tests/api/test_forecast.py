"""The forecast: begun by a POST, the same for all until something happens."""

from typing import Any

import pytest
from django.test import Client

from drives.models import Sheet, Status
from drives.sheets.tasks import render_sheet

from .conftest import World

pytestmark = pytest.mark.usefixtures("own_files")


def path(world: World) -> str:
    return f"blankets/{world.blanket.pk}/forecast/"


def test_nobody_has_asked_yet(world: World) -> None:
    answer = world.vera.get(path(world))
    assert answer.status_code == 409
    assert answer.json()["type"].endswith("/forecast-not-made")
    assert not Sheet.objects.exists()


def test_the_first_post_begins_it_and_later_ones_wait(world: World) -> None:
    first = world.vera.post(path(world))
    assert (first.status_code, first.json()) == (202, {"status": "queued", "progress": 0})
    Sheet.objects.update(status=Status.RENDERING, progress=45)
    for again in (world.cora.post(path(world)), world.cora.get(path(world))):
        assert (again.status_code, again.json()) == (202, {"status": "rendering", "progress": 45})
    assert Sheet.objects.count() == 1
    Sheet.objects.update(status=Status.FAILED)
    assert world.cora.get(path(world)).status_code == 409


def test_it_is_the_same_for_all_until_something_happens(world: World) -> None:
    world.vera.post(path(world))
    render_sheet(sheet_id=Sheet.objects.get().pk)
    told = world.vera.get(path(world))
    assert told.status_code == 200
    assert told.json() == world.olga.get(path(world)).json()
    assert told.json() == world.olga.post(path(world)).json()
    assert (told.json()["finished"], told.json()["squares"]) == (0, 9)
    assert told.json()["current"] is True
    world.finish("A1")
    assert world.vera.get(path(world)).json() == told.json() | {"current": False}
    assert world.vera.post(path(world)).status_code == 202
    assert world.vera.get(path(world)).json() == told.json() | {"current": False}
    render_sheet(sheet_id=Sheet.objects.latest("pk").pk)
    assert world.vera.get(path(world)).json()["finished"] == 1


def test_it_has_the_shape_of_the_schema(world: World) -> None:
    world.vera.post(path(world))
    render_sheet(sheet_id=Sheet.objects.get().pk)
    told = world.vera.get(path(world)).json()
    accept = "application/vnd.oai.openapi+json"
    schema: Any = Client().get("/api/v1/schema/", headers={"accept": accept}).json()
    shapes = schema["components"]["schemas"]
    assert told.keys() == shapes["Forecast"]["properties"].keys()
    for part, shape in [
        (told["dates"], "Dates"),
        (told["held_back"][0], "HeldBack"),
        (told["panel"], "MorePanel"),
        (told["ahead"][0], "Ahead"),
        (told["so_far"][0], "SoFar"),
        (told["rests_on"], "Ground"),
    ]:
        assert part.keys() == shapes[shape]["properties"].keys()


def test_strangers_see_nothing_of_it(world: World) -> None:
    for ask in ("get", "post"):
        assert getattr(world.stan, ask)(path(world)).status_code == 404
        assert getattr(world.anybody, ask)(path(world)).status_code == 401
    assert not Sheet.objects.exists()


def test_a_forecast_is_no_document_to_be_printed(world: World) -> None:
    world.vera.post(path(world))
    sheet = Sheet.objects.get()
    render_sheet(sheet_id=sheet.pk)
    assert world.cora.get(f"sheets/{sheet.pk}/").status_code == 404
    assert world.cora.get(f"sheets/{sheet.pk}/file/").status_code == 404
    asked = world.cora.post(f"blankets/{world.blanket.pk}/sheets/", {"kind": "forecast"})
    assert asked.status_code == 422
