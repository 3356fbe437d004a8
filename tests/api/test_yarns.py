"""The yarn store as programs read it."""

from pytest_django import DjangoAssertNumQueries

from drives.craft.care import Care
from drives.craft.fibres import Fibre
from drives.craft.treatments import Wash
from tests.drives.store import Shelf, new_yarn

from .conftest import World


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
