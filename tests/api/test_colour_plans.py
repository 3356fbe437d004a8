"""Colour plans: read, proposed, stored, painted by hand; and what one square may have."""

from typing import Any

import pytest
from django.test import override_settings
from pytest_django import DjangoAssertNumQueries

from accounts.models import Event
from drives.actions.drives.rules import note_rules
from drives.api import examples
from drives.craft.fibre.fibres import Fibre
from drives.craft.layout.layout import Layout
from drives.craft.receivers.rules import Rules
from drives.models import Square
from tests.store import new_yarn

from .conftest import World

OWN = {
    "palette": [{"name": "moss", "own": True}, {"name": "rust", "own": True, "at_most": 5}],
    "pattern": "chequered",
}


def path(world: World, rest: str = "colours/") -> str:
    return f"blankets/{world.blanket.pk}/{rest}"


def colours(world: World) -> dict[str, str]:
    squares = Square.objects.filter(blanket=world.blanket)
    return {str(square): square.colour for square in squares if square.colour}


@pytest.fixture
def store(world: World) -> World:
    """100 g of navy wool, and a finished square of it that weighed 10 g."""
    new_yarn(world.cast.cora, colour="Navy", fibres={Fibre.WOOL: 100})
    world.cora.post(path(world, "paint/"), {"colour": "", "places": []})
    world.cora.put(path(world, "palette/"), {"palette": [{"name": "Navy"}], "pattern": "free"})
    world.finish("A1")
    Square.objects.filter(blanket=world.blanket, column=1, row=1).update(colour="Navy")
    world.cora.post(world.at("A1", "weigh"), {"grams": 10})
    return world


def test_a_blanket_without_colours_says_so(world: World) -> None:
    told = world.vera.get(path(world)).json()

    assert (told["palette"], told["colours"], told["bare"]) == ([], [], 9)
    assert (told["pattern"], told["apart"], told["margin"]) == ("bands", True, 10)


def test_a_plan_is_proposed_and_then_stored(world: World) -> None:
    seen = world.cora.post(path(world, "colours/propose/"), OWN).json()
    assert (colours(world), world.vera.get(path(world)).json()["palette"]) == ({}, [])

    done = world.cora.put(path(world), OWN)
    assert done.json() == seen
    assert len(seen["changed"]) == 9

    told = world.vera.get(path(world)).json()
    assert told == {name: value for name, value in seen.items() if name != "changed"}
    moss, rust = told["colours"]
    assert (moss["planned"], rust["planned"], told["bare"]) == (5, 4, 0)
    of_moss, of_rust = (dict.fromkeys(each["places"], each["name"]) for each in (moss, rust))
    assert of_moss | of_rust == colours(world)
    assert (moss["needs"], moss["there"]) == (None, None)
    again = world.cora.put(path(world), OWN).json()
    assert again["changed"] == []


def test_what_cannot_be_says_why_and_what_would_help(world: World) -> None:
    body = OWN | {"palette": [{"name": "rust", "own": True}]}

    seen = world.cora.post(path(world, "colours/propose/"), body).json()
    stored = world.cora.put(path(world), body).json()

    assert seen["type"].endswith("/no-colour-plan")
    assert seen["reasons"] == stored["reasons"]
    assert [each["code"] for each in seen["helps"]] == ["alike", "one-more"]
    assert all(each["detail"].endswith(".") for each in seen["helps"])
    assert (colours(world), "helps" in stored) == ({}, False)


def test_the_yarn_of_a_colour_is_told(store: World) -> None:
    """One square of 841 stitches weighed 10 g; of 100 g 10 are used, and 10 % stay in reserve."""
    wanted = {"palette": [{"name": "Navy"}], "pattern": "free", "apart": False}
    told = store.cora.put(path(store), wanted).json()

    (navy,) = told["colours"]
    assert (navy["planned"], navy["knitted"], navy["left"]) == (9, 1, 8)
    assert navy["needs"]["low"] <= 80 <= navy["needs"]["high"]
    assert (navy["there"], navy["suffices_for"]) == (90, int(90 / 11))
    assert told["palette"][0]["value"] == "#26375c"


def test_what_the_receiver_refuses_of_the_yarns_is_told(store: World) -> None:
    rules = Rules(refused=frozenset({Fibre.WOOL}))
    olga = store.cast.olga
    note_rules(drive=store.drive, by=olga, now=store.blanket.created_at, rules=rules)

    (conflict,) = store.vera.get(path(store)).json()["conflicts"]

    assert conflict["subject"].startswith("yarn ")
    assert (conflict["about"], conflict["overruled"]) == ("wool", "")


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"palette": []}, "palette"),
        ({"palette": [{"name": "moss"}] * 25}, "palette"),
        ({"palette": [{"name": "moss"}]}, "palette.0.name"),
        ({"palette": [{"name": "navy", "own": True}]}, "palette.0.name"),
        ({"palette": [*OWN["palette"], {"name": "Moss", "own": True}]}, "palette.2.name"),
        ({"palette": [{"name": "moss", "own": 1}]}, "palette.0.own"),
        ({"palette": [{"name": "moss", "value": "green"}]}, "palette.0.value"),
        ({"palette": ["moss"]}, "palette.0"),
        ({"pattern": "stripes"}, "pattern"),
        ({"margin": 101}, "margin"),
        ({"places": []}, "places"),
    ],
)
def test_what_is_wrong_is_told_at_its_field(
    store: World, change: dict[str, Any], field: str
) -> None:
    for answer in (
        store.cora.put(path(store), OWN | change),
        store.cora.put(path(store, "palette/"), OWN | change),
        store.cora.post(path(store, "colours/propose/"), OWN | change),
    ):
        assert answer.status_code == 422
        assert [error["field"] for error in answer.json()["errors"]] == [field]


def test_the_palette_alone_changes_no_square(world: World) -> None:
    told = world.cora.put(path(world, "palette/"), OWN).json()

    assert [hue["name"] for hue in told["palette"]] == ["moss", "rust"]
    assert (told["bare"], colours(world)) == (9, {})
    assert Event.objects.filter(verb="palette-set").count() == 1


def test_squares_are_painted_by_hand(world: World) -> None:
    world.cora.put(path(world, "palette/"), OWN)

    done = world.cora.post(path(world, "paint/"), {"colour": "rust", "places": ["B2", "A1"]})
    assert (done.json()["changed"], done.json()["chosen"]) == (["A1", "B2"], ["A1", "B2"])
    assert colours(world) == {"A1": "rust", "B2": "rust"}

    again = world.cora.post(path(world, "paint/"), {"colour": "rust", "places": ["A1"]})
    assert again.json()["changed"] == []
    world.cora.post(path(world, "paint/"), {"colour": "", "places": ["A1"]})
    assert colours(world) == {"B2": "rust"}


@pytest.mark.parametrize(
    ("colour", "places", "field"), [("puce", ["A1"], "colour"), ("", ["D9"], "places")]
)
def test_only_squares_and_colours_of_the_blanket_are_painted(
    world: World, colour: str, places: list[str], field: str
) -> None:
    answer = world.cora.post(path(world, "paint/"), {"colour": colour, "places": places})

    assert [error["field"] for error in answer.json()["errors"]] == [field]


def test_a_square_tells_whoever_has_it_what_it_may_be(world: World) -> None:
    world.cora.put(path(world), OWN)
    world.vera.post(world.at("A1", "claim"))

    mine = world.vera.get(world.at("A1", "colours")).json()
    others = world.vera.get(world.at("B1", "colours")).json()

    assert (mine["place"], mine["colour"], mine["chosen"]) == ("A1", "moss", False)
    assert "moss" in [hue["name"] for hue in mine["possible"]]
    for hue in mine["possible"]:
        answer = world.vera.put(world.at("A1", "colour"), {"colour": hue["name"]})
        assert answer.status_code == 200
    assert others["possible"] is None
    assert world.vera.get(world.at("A1", "colours")).json()["chosen"] is True


def test_searching_for_plans_has_a_limit(world: World) -> None:
    with override_settings(LIMITS={"colour-plans": {"person": "2/hour"}}):
        answers = [
            world.cora.post(path(world, "colours/propose/"), OWN).status_code,
            world.cora.put(path(world), OWN).status_code,
            world.cora.post(path(world, "colours/propose/"), OWN).status_code,
        ]

    assert answers == [200, 200, 429]


def test_asking_what_a_square_may_be_has_a_limit_of_its_own(world: World) -> None:
    world.cora.put(path(world), OWN)
    world.vera.post(world.at("A1", "claim"))
    with override_settings(LIMITS={"colour-choices": {"person": "1/hour"}}):
        mine = [world.vera.get(world.at("A1", "colours")).status_code for _again in "12"]
        others = [world.vera.get(world.at("B1", "colours")).status_code for _again in "12"]

    assert (mine, others) == ([200, 429], [200, 200])  # only a search is dear


def test_more_squares_and_colours_take_no_more_queries(
    world: World, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    for colour in ("Navy", "Plum"):
        new_yarn(world.cast.cora, colour=colour)
    other = world.plan(Layout(6, 6, 20))
    world.vera.get("circles/")  # from here on the key counts as lately used
    wide = {**OWN, "palette": [*OWN["palette"], {"name": "Navy"}, {"name": "Plum"}]}
    world.cora.put(path(world, "palette/"), OWN)
    world.cora.put(f"blankets/{other.pk}/palette/", wide)
    for blanket in (world.blanket, other):
        with django_assert_num_queries(11):
            world.vera.get(f"blankets/{blanket.pk}/colours/")


def test_the_example_is_right(store: World) -> None:
    new_yarn(store.cast.cora, colour="moss")
    answer = store.cora.put(path(store, "palette/"), examples.COLOURS[0].value)

    assert answer.status_code == 200
