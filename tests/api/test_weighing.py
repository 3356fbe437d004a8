"""Weighing a finished square."""

from .conftest import World


def test_a_weight_is_noted_and_told(world: World) -> None:
    world.finish("A1")
    assert world.vera.get(world.at("A1")).json()["grams"] is None

    answer = world.vera.post(world.at("A1", "weigh"), {"grams": 12.5})

    assert answer.status_code == 200
    told = answer.json()
    assert (told["place"], told["state"], told["grams"], told["odd"]) == (
        "A1",
        "finished",
        12.5,
        False,
    )
    assert world.olga.get(world.at("A1")).json()["grams"] == 12.5


def test_a_weight_far_from_the_others_is_named(world: World) -> None:
    world.finish("A1", "B1", "A2", "C1", "B2")
    for place in ("A1", "B1", "A2", "C1"):
        world.vera.post(world.at(place, "weigh"), {"grams": 8})

    answer = world.vera.post(world.at("B2", "weigh"), {"grams": 85})
    mended = world.vera.post(world.at("B2", "weigh"), {"grams": 8.5})

    assert (answer.status_code, answer.json()["odd"]) == (200, True)
    assert (mended.json()["grams"], mended.json()["odd"]) == (8.5, False)


def test_what_no_square_weighs_is_refused(world: World) -> None:
    world.finish("A1")
    for grams in (0, -8, 0.4, 5000.1, 8.55, "many", None, True):
        answer = world.vera.post(world.at("A1", "weigh"), {"grams": grams})
        assert answer.status_code == 422
        assert [error["field"] for error in answer.json()["errors"]] == ["grams"]


def test_only_what_is_finished_and_by_whom_it_was(world: World) -> None:
    world.finish("A1")
    world.olga.post(world.at("B1", "claim"))
    world.olga.post(world.at("B1", "finish"))

    unfinished = world.vera.post(world.at("A2", "weigh"), {"grams": 8})
    others = world.vera.post(world.at("B1", "weigh"), {"grams": 8})

    assert (unfinished.status_code, others.status_code) == (409, 409)
    assert unfinished.json()["type"].endswith("/not-finished")
    assert others.json()["type"].endswith("/not-yours")
