"""Finishing a square, and ripping it back."""

import pytest

from .conftest import World


def test_finishing_tells_what_became_ready(world: World) -> None:
    world.vera.post(world.at("A1", "claim"))

    answer = world.vera.post(world.at("A1", "finish"))
    again = world.vera.post(world.at("A1", "finish"))

    assert answer.status_code == 200
    assert answer.json() == {
        "place": "A1",
        "state": "finished",
        "size": 1,
        "colour": "",
        "lot": None,
        "stands_on": [],
        "claim": None,
        "ready": ["A2", "B1"],
        "next": None,
    }
    assert (again.status_code, again.json()["ready"]) == (200, [])


@pytest.mark.parametrize(("who", "status"), [("olga", 200), ("cora", 200), ("vera", 409)])
def test_only_for_their_own_squares_or_on_behalf(world: World, who: str, status: int) -> None:
    world.cora.post(world.at("A1", "claim"), {"member": world.cast.paul.pk})

    answer = getattr(world, who).post(world.at("A1", "finish"))

    assert answer.status_code == status
    if status == 409:
        assert answer.json()["type"].endswith("/not-yours")


def test_a_square_that_carries_others_is_not_ripped(world: World) -> None:
    world.finish("A1", "B1", "A2", "B2")

    refused = world.cora.post(world.at("A1", "rip-back"))
    ripped = world.cora.post(world.at("B2", "rip-back"))

    assert refused.status_code == 409
    assert refused.json()["type"].endswith("/others-stand-on-it")
    assert refused.json()["rip_first"] == ["B2", "A2", "B1"]
    assert (ripped.status_code, ripped.json()["state"]) == (200, "ready")


def test_ripping_is_not_for_volunteers_nor_for_what_is_unfinished(world: World) -> None:
    world.finish("A1")

    assert world.vera.post(world.at("A1", "rip-back")).status_code == 403
    answer = world.olga.post(world.at("B1", "rip-back"))
    assert answer.status_code == 409
    assert answer.json()["type"].endswith("/not-finished")
