"""The rota as JSON."""

from typing import Any

import pytest
from django.test import Client
from django.utils import timezone

from drives.models import Drive, Sheet
from drives.sheets.tasks import render_sheet
from tests.desk import DAY, NOW

from .conftest import World

pytestmark = pytest.mark.usefixtures("own_files")


def path(world: World) -> str:
    return f"blankets/{world.blanket.pk}/rota/"


def test_nobody_has_asked_yet(world: World) -> None:
    answer = world.vera.get(path(world))
    assert answer.status_code == 409
    assert answer.json()["type"].endswith("/rota-not-made")


def test_it_is_asked_for_made_and_told_with_its_age(world: World) -> None:
    Drive.objects.update(deadline=NOW.date() + 3000 * DAY)
    assert world.vera.post(path(world)).status_code == 202
    assert world.vera.get(path(world)).json() == {"status": "queued", "progress": 0}
    render_sheet(sheet_id=Sheet.objects.get().pk)
    told = world.vera.get(path(world)).json()
    assert told["current"] is True
    assert len(told["starts"]) == 9
    # What is accepted of other people's is not for a volunteer to know.
    seen = world.olga.post(path(world)).json()
    assert {each["accepted"] for each in seen["assigned"]} == {False}
    for each in (*seen["assigned"], *told["assigned"]):
        each.pop("accepted")
    assert seen == told
    world.finish("A1")
    later = world.vera.get(path(world)).json()
    for each in later["assigned"]:
        each.pop("accepted")
    assert later == told | {"current": False}


def test_a_line_is_accepted_told_and_taken_back(world: World) -> None:
    today = timezone.localdate()
    vera, to = world.cast.vera.pk, world.at("A1").removesuffix("squares/A1/") + "rota/"
    line = {"place": "A1", "member": vera, "begin": (today + 3 * DAY).isoformat()}
    assert world.vera.post(f"{to}accept/", line).status_code == 403
    assert world.cora.post(f"{to}accept/", line).json() == {"places": ["A1"]}
    world.vera.post(to)
    render_sheet(sheet_id=Sheet.objects.get().pk)
    (told,) = [each for each in world.vera.get(to).json()["assigned"] if each["place"] == "A1"]
    assert (told["member"], told["begin"], told["why"]) == (vera, line["begin"], "planned")
    assert told["accepted"] is True
    assert world.cora.post(f"{to}decline/", {"place": "A1", "member": vera}).status_code == 200
    assigned = world.cora.get(to).json()["assigned"]
    assert ("A1", vera) not in {(each["place"], each["member"]) for each in assigned}
    assert world.cora.post(f"{to}take-back/").json() == {"places": ["A1"]}


def test_it_has_the_shape_of_the_schema(world: World) -> None:
    Drive.objects.update(deadline=NOW.date() + 3000 * DAY)
    world.vera.post(path(world))
    render_sheet(sheet_id=Sheet.objects.get().pk)
    told = world.vera.get(path(world)).json()
    accept = "application/vnd.oai.openapi+json"
    schema: Any = Client().get("/api/v1/schema/", headers={"accept": accept}).json()
    shapes = schema["components"]["schemas"]
    assert told.keys() == shapes["Rota"]["properties"].keys()
    for part, shape in [
        (told["speed"], "Speed"),
        (told["enough"], "Enough"),
        (told["starts"][0], "Start"),
        (told["assigned"][0], "Assigned"),
    ]:
        assert part.keys() == shapes[shape]["properties"].keys()
