"""The squares of a blanket: the list and the single one."""

from typing import Any

import pytest
from django.test import override_settings
from pytest_django import DjangoAssertNumQueries

from drives.craft.knitter import Hand
from drives.craft.layout.layout import Large, Layout, Mitre
from drives.craft.places import Place

from .conftest import World


def test_every_square_is_listed_with_its_state(world: World) -> None:
    world.finish("A1")
    world.vera.post(world.at("B1", "claim"))

    answer = world.vera.get(f"blankets/{world.blanket.pk}/squares/").json()

    found = {square["place"]: square for square in answer["results"]}
    assert (answer["count"], answer["next"], answer["previous"]) == (9, None, None)
    assert list(found)[:3] == ["A1", "B1", "A2"]
    states = [found[place]["state"] for place in ("A1", "B1", "A2", "B2")]
    assert states == ["finished", "taken", "ready", "waiting"]
    assert found["B2"] == {
        "place": "B2",
        "state": "waiting",
        "size": 1,
        "colour": "",
        "lot": None,
        "stands_on": ["A2", "B1"],
        "claim": None,
    }
    claim = found["B1"]["claim"]
    assert (claim["member"], claim["member_name"]) == (world.cast.vera.pk, "Vera")
    assert (claim["late"], claim["ended_at"]) == (False, None)


@pytest.mark.parametrize(
    ("state", "places"),
    [
        ("finished", ["A1"]),
        ("taken", ["B1"]),
        ("ready", ["A2"]),
        ("waiting", ["C1", "B2", "A3", "C2", "B3", "C3"]),
    ],
)
def test_the_list_can_be_narrowed_to_a_state(world: World, state: str, places: list[str]) -> None:
    world.finish("A1")
    world.vera.post(world.at("B1", "claim"))

    answer = world.cora.get(f"blankets/{world.blanket.pk}/squares/", state=state).json()

    assert [square["place"] for square in answer["results"]] == places


def test_an_unknown_state_is_refused(world: World) -> None:
    answer = world.vera.get(f"blankets/{world.blanket.pk}/squares/", state="begun")

    assert answer.status_code == 422
    assert answer.json()["type"].endswith("/invalid-input")
    assert [error["field"] for error in answer.json()["errors"]] == ["state"]


def test_a_knitter_gets_steps_and_rows_for_their_own_hand(world: World) -> None:
    right = world.vera.get(world.at("B1")).json()
    world.cast.vera.hand = Hand.LEFT
    world.cast.vera.save(update_fields=["hand"])
    left = world.vera.get(world.at("b1")).json()

    assert (right["hand"], left["hand"]) == ("right", "left")
    assert [step["stitches"] for step in right["foundation"]] == [19, 21]
    assert [step["stitches"] for step in left["foundation"]] == [21, 19]
    assert right["in_words"]["steps"][0].startswith("Cast on 19")
    assert left["in_words"]["steps"][0].startswith("Pick up and knit 21 down")
    assert (right["kind"], right["total"], right["round"]) == ("side-join", 40, 2)
    assert (len(right["rows"]), right["worked"]) == (40, 841)


def test_the_abbreviations_come_in_the_terms_that_are_asked_for(world: World) -> None:
    blanket = world.plan(Layout(1, 1, 10, Mitre.CENTRED))
    address = f"blankets/{blanket.pk}/squares/A1/"

    usual = world.vera.get(address).json()["in_words"]["glossary"]
    american = world.vera.get(address, english="american").json()["in_words"]["glossary"]
    unknown = world.vera.get(address, english="welsh")

    assert usual["cdd"].startswith("centred double decrease")
    assert american["cdd"].startswith("centered double decrease")
    assert unknown.status_code == 422
    assert [error["field"] for error in unknown.json()["errors"]] == ["english"]


def test_a_large_square_has_as_many_more_rows(world: World) -> None:
    blanket = world.plan(Layout(2, 2, 10, large=frozenset({Large(Place(1, 1), 2)})))

    square = world.vera.get(f"blankets/{blanket.pk}/squares/A1/").json()

    assert (square["size"], square["total"], len(square["rows"])) == (2, 40, 40)


def test_a_square_tells_who_has_it_and_who_made_it(world: World) -> None:
    world.finish("A1")
    world.vera.post(world.at("B1", "claim"))

    made, held = world.olga.get(world.at("A1")).json(), world.olga.get(world.at("B1")).json()

    assert (made["state"], made["knitter"]) == ("finished", world.cast.vera.pk)
    assert (made["knitter_name"], made["claim"]) == ("Vera", None)
    assert made["finished_at"]
    assert (held["state"], held["claim"]["member_name"]) == ("taken", "Vera")
    assert held["knitter"] is None


def test_a_square_tells_what_the_caller_may_do(world: World) -> None:
    world.finish("A1")
    world.vera.post(world.at("B1", "claim"))

    def may(caller: Any, place: str) -> list[str]:
        acts: list[str] = caller.get(world.at(place)).json()["may"]
        return acts

    assert may(world.vera, "A1") == ["weigh", "measure"]
    assert may(world.olga, "A1") == ["rip-back", "weigh", "measure"]
    assert may(world.vera, "B1") == ["finish", "give-back", "colour"]
    assert may(world.olga, "B1") == ["finish", "give-back", "extend", "release", "colour"]
    assert may(world.vera, "A2") == ["claim"]
    assert may(world.vera, "B2") == []


@pytest.mark.parametrize("place", ["D1", "A0", "1", "ZZZ", "A1x", "%00"])
def test_what_is_no_place_of_the_blanket_is_not_found(world: World, place: str) -> None:
    answer = world.vera.get(world.at(place))

    assert answer.status_code == 404
    assert answer["Content-Type"] == "application/problem+json"


@override_settings(DEBUG=False)
def test_a_large_blanket_takes_no_more_queries_than_a_small_one(
    world: World, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    world.finish("A1")  # and the key counts as lately used
    for side in (10, 40):
        blanket = world.plan(Layout(side, side, 20))
        blanket.plan()
        # Key, blanket, member, squares, claims.
        with django_assert_num_queries(5):
            answer = world.vera.get(f"blankets/{blanket.pk}/squares/")
        assert len(answer.json()["results"]) == side * side
        # Key, square, member, claim.
        with django_assert_num_queries(4):
            world.vera.get(f"blankets/{blanket.pk}/squares/A1/")
        # Key, blanket, member, counts, palette.
        with django_assert_num_queries(5):
            world.vera.get(f"blankets/{blanket.pk}/")
