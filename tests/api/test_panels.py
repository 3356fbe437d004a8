"""Proposals for panels as JSON: asked for by organisers, and nothing is cut."""

from typing import Any

import pytest
from django.test import Client
from django.utils.formats import number_format

from drives import measures
from drives.models import Sheet
from drives.sheets.tasks import render_sheet
from drives.words.panels import share_line

from .conftest import Api, World

pytestmark = pytest.mark.usefixtures("own_files")


def path(world: World) -> str:
    return f"blankets/{world.blanket.pk}/panels/"


def made(world: World, **supposed: object) -> Any:
    assert world.olga.post(path(world), supposed).status_code == 202
    render_sheet(sheet_id=Sheet.objects.latest("pk").pk)
    return world.olga.get(path(world), **supposed).json()


def test_nobody_has_asked_yet(world: World) -> None:
    answer = world.olga.get(path(world), volunteers=3)
    assert answer.status_code == 409
    assert answer.json()["type"].endswith("/panels-not-made")
    assert not Sheet.objects.exists()


def test_they_are_those_of_what_is_supposed(world: World) -> None:
    told = made(world, volunteers=3, pace=4)
    assert told["current"] is True
    stands, *others = told["proposals"]
    assert (stands["seams"], stands["along"], stands["sewing"]) == ([], None, 0)
    assert others
    assert all(each["seams"] and each["sewing"] > 0 for each in others)
    assert world.olga.post(path(world), {"volunteers": 3, "pace": 4.0}).json() == told
    assert world.olga.get(path(world), volunteers=4, pace=4).status_code == 409
    assert Sheet.objects.count() == 1
    world.finish("A1")
    assert world.olga.get(path(world), volunteers=3, pace=4).json() == told | {"current": False}


def test_nonsense_is_refused(world: World) -> None:
    for supposed in ({}, {"volunteers": 0}, {"volunteers": 3, "wanted": "soon"}):
        assert world.olga.post(path(world), supposed).status_code == 422
        assert world.olga.get(path(world), **supposed).status_code == 422
    for number in ("nan", "inf", True, 1e999):
        assert (
            world.olga.post(path(world), {"volunteers": 3, "pace": str(number)}).status_code == 422
        )
        assert world.olga.get(path(world), volunteers=3, pace=number).status_code == 422
    assert world.olga.post(path(world), {"volunteers": 3, "people": 3}).status_code == 422
    assert not Sheet.objects.exists()


def test_it_has_the_shape_of_the_schema(world: World) -> None:
    told = made(world, volunteers=3)
    accept = "application/vnd.oai.openapi+json"
    schema: Any = Client().get("/api/v1/schema/", headers={"accept": accept}).json()
    shapes = schema["components"]["schemas"]
    assert told.keys() == shapes["Panels"]["properties"].keys()
    proposal = told["proposals"][1]
    assert proposal.keys() == shapes["Proposed"]["properties"].keys()
    assert proposal["shares"][0].keys() == shapes["Shared"]["properties"].keys()


PLAN = {"stitches": 20, "gauge": 20}


@pytest.mark.parametrize(
    ("columns", "rows", "days", "sewing"), [(6, 6, 45, 120), (4, 4, 20, 80), (8, 6, 60, 140)]
)
def test_a_plan_is_cut_without_being_kept(
    anybody: Api, columns: int, rows: int, days: int, sewing: int
) -> None:
    body = PLAN | {"columns": columns, "rows": rows, "volunteers": 4}
    stands, *ways = anybody.post("plan/panels/", body).json()["ways"]
    assert (stands["panels"], stands["days"], stands["seams"]) == (1, columns * rows * 5, [])
    (best,) = [way for way in ways if way["days"] == days]
    assert (best["panels"], best["along"], best["bent"]) == (4, None, False)
    assert best["sewing"] == sewing
    each = columns * rows // 4
    assert [(one["squares"], one["others"], one["days"]) for one in best["shares"]] == [
        (each, 1, days)
    ] * 4
    assert len(best["seams"]) == sewing / 10


def test_a_plan_that_is_too_large_is_compared_later(anybody: Api) -> None:
    body = PLAN | {"columns": 40, "rows": 40, "volunteers": 4}
    refused = anybody.post("plan/panels/", body)
    assert refused.status_code == 422
    assert "Up to 1000 squares can be compared here" in refused.json()["errors"][0]["detail"]


def test_a_drive_names_its_people_and_says_what_its_page_says(world: World) -> None:
    drive = world.blanket.drive_id
    body = PLAN | {"columns": 6, "rows": 6, "volunteers": 4, "drive": drive}
    stands, *cut = world.olga.post("plan/panels/", body).json()["ways"]
    shares = [share for way in cut for share in way["shares"]]
    assert {"Olga", "Vera"} <= {name for share in shares for name in share["members"]}
    client = Client()
    assert world.cast.olga.user
    client.force_login(world.cast.olga.user)
    asked = {name: str(value) for name, value in body.items()} | {"name": "x"}
    page = client.get(f"/drives/{drive}/plan/panels/", asked)
    on_page = [(each.days, each.sewing, each.shares) for each in page.context["ways"]]
    assert on_page == [
        (
            number_format(round(way["days"])),
            measures.length(way["sewing"], world.blanket.drive.circle.units),
            [share_line(share) for share in way["shares"]],
        )
        for way in (stands, *cut)
    ]


def test_only_organisers_compare_for_a_drive(world: World, anybody: Api) -> None:
    body = PLAN | {"columns": 2, "rows": 2, "volunteers": 2, "drive": world.blanket.drive_id}
    assert world.vera.post("plan/panels/", body).status_code == 403
    assert anybody.post("plan/panels/", body).status_code in (401, 404)
    assert world.olga.post("plan/panels/", body | {"drive": 999}).status_code == 404
