"""Measured gauge: squares and swatches, drift, who knits alike, and which needle to try."""

from decimal import Decimal
from typing import Any

import pytest
from pytest_django import DjangoAssertNumQueries

from drives.api import examples
from drives.craft.layout.layout import Layout, Seam
from drives.craft.places import Place
from drives.models import Measurement

from .conftest import Api, World

TIGHT = {"stitches": 22, "width": 10, "ridges": 22, "height": 10, "needle": 4}


def path(world: World) -> str:
    return f"blankets/{world.blanket.pk}/gauge/"


def swatch(api: Api, world: World, stitches: int, **more: Any) -> Any:
    counted = {"stitches": stitches, "ridges": stitches}
    return api.post(path(world), TIGHT | counted | more)


def test_before_anything_is_measured_there_is_the_plan(world: World) -> None:
    assert world.vera.get(path(world)).json() == {
        "planned": 20.0,
        "side": 10.0,
        "stitches": 20,
        "tolerance": 0.05,
        "members": [],
        "alike": [],
    }


def test_a_swatch_tells_what_follows_and_which_needle_to_try(world: World) -> None:
    """22 stitches to 10 cm instead of 20: a side is 20 / 22 of what it was to be."""
    told = swatch(world.vera, world, 22).json()

    assert (told["member"], told["place"]) == (world.cast.vera.pk, None)
    assert (told["gauge"], told["tension"], told["far"]) == (22.0, "tight", False)
    assert told["off"] == pytest.approx(-1 / 11)
    assert (told["side"], told["width"]) == (pytest.approx(200 / 22), pytest.approx(600 / 22))
    assert told["needle"] == {"mm": 4.0, "us": "6", "uk": "8"}
    assert told["try_needle"] == {"mm": 4.5, "us": "7", "uk": "7"}
    assert told["in_words"][-1] == ("Try 4.5 mm (US 7, old UK 7) instead of 4 mm (US 6, old UK 8).")
    again = swatch(world.vera, world, 22)
    assert (again.status_code, Measurement.objects.count()) == (200, 1)


def test_rows_counted_for_ridges_are_seen(world: World) -> None:
    told = world.vera.post(path(world), TIGHT | {"stitches": 20, "ridges": 40}).json()

    assert told["crooked"]["crook"] == "rows-counted"
    assert told["in_words"][-1].endswith("Count again.")


def test_squares_that_grow_are_told(world: World) -> None:
    for place, side in [("A1", 9.5), ("B1", 10), ("A2", 10.5), ("C1", 11)]:
        world.finish(place)
        world.vera.post(world.at(place, "measure"), {"width": side, "height": side})

    (vera,) = world.vera.get(path(world)).json()["members"]

    drift = vera["drift"]
    assert (drift["squares"], drift["shown"]) == (4, True)
    assert (drift["mean"], drift["trend"]) == (pytest.approx(10.25), pytest.approx(0.5))
    assert drift["change"] == pytest.approx(1.5 / 10.25)
    assert drift["in_words"].startswith("The squares grow")
    assert (vera["needle"], vera["try_needle"], vera["gauge"]) == (
        None,
        None,
        pytest.approx(200 / 10.25),
    )


def test_a_square_measured_again_is_corrected(world: World) -> None:
    world.finish("A1")
    for width in (10, 12):
        told = world.vera.post(world.at("A1", "measure"), {"width": width, "height": 10})

    assert (told.json()["place"], told.json()["measured_width"]) == ("A1", 12.0)
    assert Measurement.objects.get().width == Decimal(12)
    assert "measure" in world.vera.get(world.at("A1")).json()["may"]
    assert "measure" not in world.vera.get(world.at("B1")).json()["may"]


def test_who_knits_alike_is_told_with_free_panels(world: World) -> None:
    seam = frozenset({Seam.between(Place(1, 1), Place(2, 1))})
    blanket = world.plan(Layout(2, 1, 20, seams=seam))
    at = f"blankets/{blanket.pk}/gauge/"
    for member, stitches in (("vera", 20), ("paul", 20), ("cora", 26)):
        who = getattr(world.cast, member).pk
        counted = {"stitches": stitches, "ridges": stitches, "member": who}
        assert world.cora.post(at, TIGHT | counted).status_code == 200

    told = world.cora.get(at).json()
    mine = world.vera.get(at).json()

    assert [each["name"] for each in told["members"]] == ["Cora", "Paul", "Vera"]
    assert [group["names"] for group in told["alike"]] == [["Vera", "Paul"], ["Cora"]]
    assert told["alike"][0]["free"] == ["A1–A1", "B1–B1"]
    assert [each["name"] for each in mine["members"]] == ["Vera"]
    assert [group["names"] for group in mine["alike"]] == [["Vera", "Paul"]]


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"needle": 4.1}, "needle"),
        ({"needle": "4"}, "needle"),
        ({"needle": True}, "needle"),
        ({"width": 0.4}, "width"),
        ({"height": 500.1}, "height"),
        ({"stitches": 401}, "stitches"),
        ({"ridges": 0}, "ridges"),
        ({"colour": "moss"}, "colour"),
    ],
)
def test_what_is_wrong_is_told_at_its_field(
    world: World, change: dict[str, Any], field: str
) -> None:
    answer = world.vera.post(path(world), TIGHT | change)

    assert [error["field"] for error in answer.json()["errors"]] == [field]


def test_only_what_one_has_knitted_is_measured(world: World) -> None:
    world.finish("A1")
    sides = {"width": 10, "height": 10}

    unfinished = world.vera.post(world.at("B1", "measure"), sides)
    for_others = world.vera.post(path(world), TIGHT | {"member": world.cast.paul.pk})
    stranger = world.olga.post(path(world), TIGHT | {"member": 10**9})

    assert unfinished.json()["type"].endswith("/not-finished")
    assert (for_others.status_code, stranger.status_code) == (403, 404)


def test_the_examples_are_right(world: World) -> None:
    world.finish("A1")

    assert world.vera.post(path(world), examples.SWATCH[0].value).status_code == 200
    assert world.vera.post(world.at("A1", "measure"), examples.SIDES[0].value).status_code == 200


def test_more_measurements_take_no_more_queries(
    world: World, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    for stitches in (20, 21):
        swatch(world.cora, world, stitches)
        swatch(world.vera, world, stitches)
        with django_assert_num_queries(4):
            world.cora.get(path(world))
