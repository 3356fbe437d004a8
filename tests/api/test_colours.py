"""Choosing a square's colour, and reading the palette."""

from typing import Any

import pytest
from django.utils import timezone

from drives.actions.colours.plans import plan_colours
from drives.craft.colours.wish import Pattern
from drives.readings.colour_plans import ColoursWanted, PaletteColour

from .conftest import World

PALETTE = (
    PaletteColour("moss", "#6f7f3f", own=True),
    PaletteColour("rust", "#a9502b", own=True, at_most=9),
)


@pytest.fixture
def planned(world: World) -> World:
    plan_colours(
        blanket=world.blanket,
        by=world.cast.olga,
        wanted=ColoursWanted(PALETTE, Pattern.CHEQUERED, apart=False, margin=0),
        now=timezone.now(),
    )
    return world


def put(world: World, **body: Any) -> Any:
    return world.vera.put(world.at("A1", "colour"), body)


def test_the_palette_is_told(planned: World) -> None:
    told = planned.vera.get(f"blankets/{planned.blanket.pk}/").json()
    assert told["palette"] == [
        {"name": "moss", "value": "#6f7f3f", "own": True, "at_most": None},
        {"name": "rust", "value": "#a9502b", "own": True, "at_most": 9},
    ]
    assert (told["pattern"], told["apart"], told["over_seams"]) == ("chequered", False, True)


def test_a_colour_is_chosen_again_and_again(planned: World) -> None:
    planned.vera.post(planned.at("A1", "claim"))
    for _time in range(2):
        answer = put(planned, colour="rust")
        assert (answer.status_code, answer.json()["colour"]) == (200, "rust")
        assert answer.json()["changed"] == []
    assert put(planned, colour="sunset", value="#ff8800").json()["colour"] == "sunset"


def test_what_is_wrong_is_told_at_its_field(planned: World) -> None:
    answer = put(planned, colour="", value="orange")
    assert answer.status_code == 422
    assert [error["field"] for error in answer.json()["errors"]] == ["colour", "value"]


def test_only_what_is_in_ones_hands(planned: World) -> None:
    assert put(planned, colour="rust").json()["type"].endswith("/not-taken")
