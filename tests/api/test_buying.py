"""The yarn of a blanket as programs read it, and what they note of it."""

from typing import Any

import pytest

from drives.craft.fibre.fibres import Fibre
from drives.models import Reservation, Square, Yarn
from tests.store import new_yarn

from .conftest import World


@pytest.fixture
def lots(world: World) -> list[Yarn]:
    """Two that are alike; all squares are of their colour, and of what a swatch of them weighs."""
    known = {"category": 4, "fibres": {Fibre.WOOL: 100}, "ball_grams": 50}
    found = [
        new_yarn(world.cast.cora, 60, dye_lot="A", **known),
        new_yarn(world.cast.cora, 50, dye_lot="B", **known),
    ]
    Yarn.objects.update(swatch_stitches=29, swatch_rows=29, swatch_grams=8)
    Square.objects.update(colour="Navy")
    return found


def at(world: World, what: str = "") -> str:
    return f"blankets/{world.blanket.pk}/yarn/{what}"


def navy(answer: Any) -> Any:
    assert answer.status_code == 200, answer.content
    (found,) = answer.json()["colours"]
    return found


def test_what_it_takes_and_what_is_short(world: World, lots: list[Yarn]) -> None:
    told = world.vera.get(at(world)).json()
    assert told["wishes"] == {
        "certainty": 90,
        "border_ridges": 0,
        "border_colour": "",
        "seam_colour": "",
        "packaging": 200,
        "postage": None,
    }
    (colour,) = told["colours"]
    assert (colour["colour"], colour["evidence"], colour["way"]) == ("Navy", "swatches", None)
    assert [(lot["dye_lot"], lot["grams"], lot["counts"]) for lot in colour["lots"]] == [
        ("A", 60, True),
        ("B", 50, False),
    ]
    assert told["parcel"]["low"] == pytest.approx(told["weighs"]["low"] + 200)
    more = {"border_ridges": 20, "border_colour": "Navy", "certainty": 95}
    wider = navy(world.cora.post(at(world), more))
    assert wider["needs"] > colour["needs"]
    assert wider["balls"] >= 1
    assert world.vera.get(at(world)).json()["wishes"]["packaging"] == 200


def test_reservations_and_lots(world: World, lots: list[Yarn]) -> None:
    answer = world.cora.post(at(world, "reservations/"), {"yarn": lots[1].pk, "grams": 40})
    assert [lot["dye_lot"] for lot in navy(answer)["lots"]] == ["B", "A"]
    assert navy(answer)["lots"][0]["reserved"] == 40
    body = {"colour": "Navy", "yarns": [yarn.pk for yarn in lots], "way": "changed-at-a-seam"}
    found = navy(world.cora.post(at(world, "lots/"), body))
    assert (found["way"], found["there"]) == ("changed-at-a-seam", 110)
    move = {"way": "knitted", "grams": 15, "blanket": world.blanket.pk}
    answer = world.cora.post(f"yarns/{lots[1].pk}/moves/", move)
    assert answer.json()["reserved"] == Reservation.objects.get().grams == 25
    assert navy(world.cora.post(at(world, "lots/"), {"colour": "Navy"}))["way"] is None
    lots[1].refresh_from_db()
    world.cora.post(at(world, "reservations/"), {"yarn": lots[1].pk, "grams": 0})
    assert not Reservation.objects.exists()


def test_every_square_tells_its_lot(world: World, lots: list[Yarn]) -> None:
    Yarn.objects.filter(pk=lots[1].pk).update(grams=200)
    body = {"colour": "Navy", "yarns": [yarn.pk for yarn in lots], "way": "changed-at-a-seam"}
    found = navy(world.cora.post(at(world, "lots/"), body))
    listed = {
        square["place"]: square["lot"]
        for square in world.vera.get(f"blankets/{world.blanket.pk}/squares/").json()["results"]
    }
    assert sum(len(lot["squares"]) for lot in found["lots"]) == len(listed)
    for lot in found["lots"]:
        told = {"yarn": lot["yarn"], "dye_lot": lot["dye_lot"]}
        assert all(listed[place] == told for place in lot["squares"])
    taken = world.vera.post(world.at("A1", "claim"))
    assert taken.status_code == 201
    assert world.vera.get(world.at("A1")).json()["lot"] == listed["A1"]


def test_what_is_refused_has_its_code(world: World, lots: list[Yarn]) -> None:
    answer = world.cora.post(at(world, "reservations/"), {"yarn": lots[0].pk, "grams": 61})
    assert answer.status_code == 409
    assert answer.json()["type"].endswith("not-so-much-free")
    assert answer.json()["grams"] == 60
    lots[1].fibres = {"acrylic": 100}
    lots[1].save()
    body = {"colour": "Navy", "yarns": [yarn.pk for yarn in lots], "way": "never-side-by-side"}
    answer = world.cora.post(at(world, "lots/"), body)
    assert (answer.status_code, answer.json()["why"]) == (409, "fibres")
    assert world.cora.post(at(world, "reservations/"), {"yarn": 999, "grams": 1}).status_code == 404


def test_a_lot_to_be_bought_and_the_postage(world: World, lots: list[Yarn]) -> None:
    body = {"colour": "Navy", "dye_lot": "new", "grams": 300, "way": "never-side-by-side"}
    found = navy(world.cora.post(at(world, "new-lot/"), body))
    told = {lot["dye_lot"]: (lot["grams"], lot["to_come"], lot["counts"]) for lot in found["lots"]}
    assert told == {"A": (60, 0, True), "B": (50, 0, False), "new": (0, 300, True)}
    assert sum(len(lot["squares"]) for lot in found["lots"]) == 9
    Yarn.objects.update(price="2.50")
    answer = world.cora.post(at(world), {"postage": 6.4}).json()
    assert answer["wishes"]["postage"] == 6.4
    assert answer["total_cost"] == pytest.approx(answer["cost"] + 6.4)
    assert answer["cost"] == answer["colours"][0]["balls"] * 2.5
    answer = world.cora.post(at(world), {"postage": None}).json()
    assert answer["total_cost"] == answer["cost"]
