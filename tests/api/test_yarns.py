"""The yarn store as programs read it."""

from typing import Any

import pytest
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from accounts.actions import remove_member
from accounts.models import Event
from drives.craft.fibre.care import Care
from drives.craft.fibre.fibres import Fibre
from drives.craft.fibre.treatments import Wash
from drives.models import Yarn
from tests.store import Shelf, new_yarn

from .conftest import Api, World


def test_yarns_are_told_with_what_the_caller_has(world: World) -> None:
    cast = world.cast
    new_yarn(cast.cora)
    known = {"fibres": {Fibre.ACRYLIC: 100}, "care": Care(wash=Wash.MACHINE_40), "fast": True}
    rose = Shelf(new_yarn(cast.cora, 250, colour="Cream", dye_lot="7", **known), cast.cora)
    rose.hand_out(cast.vera, 40)
    rose.hand_out(cast.paul, 10)

    answer = world.vera.get(f"circles/{cast.circle.pk}/yarns/").json()

    assert [yarn["colour"] for yarn in answer["results"]] == ["Cream", "Navy"]
    assert answer["results"][0] == {
        "id": rose.yarn.pk,
        "colour": "Cream",
        "value": "#26375c",
        "dye_lot": "7",
        "category": None,
        "fibres": {"acrylic": 100},
        "metres_per_100_grams": None,
        "care": {"wash": "MACHINE_40"},
        "fast": True,
        "given_by": "",
        "place": "",
        "grams": 200,
        "in_hands": 50,
        "own": 40,
        "reserved": 0,
        "ball_grams": None,
        "price": None,
    }
    navy = answer["results"][1]
    assert (navy["fibres"], navy["care"], navy["fast"], navy["own"]) == (None, {}, None, 0)


def test_yarns_are_for_the_circle_alone(world: World) -> None:
    path = f"circles/{world.cast.circle.pk}/yarns/"

    assert world.stan.get(path).status_code == 404
    assert world.anybody.get(path).status_code == 401


def test_more_yarns_take_no_more_queries(
    world: World, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    path = f"circles/{world.cast.circle.pk}/yarns/"
    world.vera.get(path)  # from here on the key counts as lately used
    for lot in range(2):
        new_yarn(world.cast.cora, dye_lot=f"{lot}")
        with django_assert_num_queries(4):  # key, member, count, yarns
            assert world.vera.get(path).json()["count"] == lot + 1


def test_every_movement_answers_with_the_yarn_as_it_is_then(world: World) -> None:
    cast = world.cast
    path = f"yarns/{new_yarn(cast.cora).pk}/moves/"

    def moved(api: Api, way: str, grams: int, **more: Any) -> tuple[int, int, int]:
        answer = api.post(path, {"way": way, "grams": grams, **more})
        assert answer.status_code == 200
        yarn = answer.json()
        return yarn["grams"], yarn["in_hands"], yarn["own"]

    vera, paul = cast.vera.pk, cast.paul.pk
    assert moved(world.cora, "received", 50, note="from the fair") == (150, 0, 0)
    assert moved(world.cora, "handed-out", 60, member=vera) == (90, 60, 0)
    assert moved(world.cora, "handed-out", 10, member=paul) == (80, 70, 0)
    assert moved(world.cora, "returned", 5, member=paul) == (85, 65, 0)
    assert moved(world.vera, "knitted", 20, member=vera) == (85, 45, 40)
    assert moved(world.cora, "knitted", 5) == (80, 45, 0)
    assert moved(world.olga, "counted", 0, member=paul, note="lost") == (80, 40, 0)
    assert moved(world.olga, "counted", 82) == (82, 40, 0)
    assert Yarn.objects.get().moves.count() == 9
    remove_member(member=cast.vera, by=cast.olga, now=timezone.now())
    assert moved(world.cora, "returned", 40, member=vera) == (122, 0, 0)


@pytest.mark.parametrize(
    ("body", "field"),
    [
        ({"way": "lost", "grams": 5}, "way"),
        ({"way": "received"}, "grams"),
        ({"way": "received", "grams": 0}, "grams"),
        ({"way": "received", "grams": 2.5}, "grams"),
        ({"way": "received", "grams": 100_001}, "grams"),
        ({"way": "received", "grams": 5, "member": 1}, "member"),
        ({"way": "handed-out", "grams": 5}, "member"),
        ({"way": "returned", "grams": 5}, "member"),
        ({"way": "knitted", "grams": 5, "note": "a hat"}, "note"),
        ({"way": "knitted", "grams": 5, "seen": 1}, "seen"),
    ],
)
def test_what_makes_no_sense_is_named(world: World, body: dict[str, Any], field: str) -> None:
    answer = world.cora.post(f"yarns/{new_yarn(world.cast.cora).pk}/moves/", body)

    assert answer.status_code == 422
    assert [error["field"] for error in answer.json()["errors"]] == [field]


def test_members_note_what_they_have_knitted_up_and_nothing_else(world: World) -> None:
    path = f"yarns/{new_yarn(world.cast.cora).pk}/moves/"

    for way in ("received", "handed-out", "returned", "counted"):
        told: dict[str, Any] = {"way": way, "grams": 5}
        told |= {} if way in ("received", "counted") else {"member": world.cast.vera.pk}
        assert world.vera.post(path, told).status_code == 403
    answer = world.vera.post(path, {"way": "knitted", "grams": 5})
    assert answer.json()["type"].endswith("/not-yours")
    strange = world.cast.stan.memberships.get().pk
    told = {"way": "handed-out", "grams": 5, "member": strange}
    assert world.cora.post(path, told).status_code == 404
    assert world.stan.post(path, told).status_code == 404


def test_a_call_with_a_key_moves_once(world: World) -> None:
    yarn = new_yarn(world.cast.cora)
    told = {"way": "handed-out", "grams": 30, "member": world.cast.vera.pk}

    for _call in range(2):
        world.cora.post(f"yarns/{yarn.pk}/moves/", told, idempotency_key="ball-1")
    assert Shelf(yarn, world.cast.cora).hands() == {"Vera": 30}


def test_what_a_ball_weighs_and_costs_is_noted(world: World) -> None:
    path = f"yarns/{new_yarn(world.cast.cora).pk}/"
    told = world.cora.post(path, {"ball_grams": 50, "price": 2.75}).json()
    assert (told["ball_grams"], told["price"]) == (50, 2.75)
    told = world.cora.post(path, {"price": None}).json()
    assert (told["ball_grams"], told["price"]) == (50, None)
    assert world.vera.get(path).json() == told
    events = list(Event.objects.filter(verb="yarn-changed").order_by("pk"))
    assert [event.facts["changed"] for event in events] == [["ball_grams", "price"], ["price"]]
    for wrong in ({"price": -1}, {"price": 1.234}, {"ball_grams": 10_001}, {"ball_grams": "50"}):
        assert world.cora.post(path, wrong).status_code == 422
