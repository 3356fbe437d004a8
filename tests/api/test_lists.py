"""Circles, members, drives and blankets: what the caller can see, in pages."""

from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from accounts.actions import remove_member
from drives.craft.layout.layout import Layout

from .conftest import World


def test_circles_tell_who_the_caller_is_there(world: World) -> None:
    answer = world.olga.get("circles/").json()

    assert (answer["count"], answer["next"], answer["previous"]) == (1, None, None)
    (circle,) = answer["results"]
    assert circle["id"] == world.cast.circle.pk
    assert circle["name"] == "Harbour Lane"
    assert circle["roles"] == ["organiser", "volunteer"]
    assert circle["member"] == world.cast.olga.pk
    assert circle["hand"] == "right"


def test_members_are_told_to_members_without_how_to_reach_them(world: World) -> None:
    members = world.vera.get(f"circles/{world.cast.circle.pk}/members/").json()["results"]

    assert [member["name"] for member in members] == ["Cora", "Olga", "Paul", "Vera"]
    assert members[2] == {
        "id": world.cast.paul.pk,
        "name": "Paul",
        "roles": ["volunteer"],
        "hand": "right",
        "on_paper": True,
    }


def test_drives_and_blankets_are_those_of_the_callers_circles(world: World) -> None:
    drives = world.vera.get("drives/").json()["results"]
    blankets = world.vera.get("blankets/").json()["results"]

    assert [(drive["id"], drive["circle_name"]) for drive in drives] == [
        (world.drive.pk, "Harbour Lane")
    ]
    assert {"country", "at_once", "hand_over_days"} < drives[0].keys()
    assert [(each["id"], each["drive_name"]) for each in blankets] == [(world.blanket.pk, "Winter")]
    assert blankets[0]["squares"] == {"waiting": 8, "ready": 1, "taken": 0, "finished": 0}
    for path in ("drives/", "blankets/"):
        assert world.stan.get(path).json()["results"] == []


def test_who_has_left_sees_nothing_more(world: World) -> None:
    remove_member(member=world.cast.vera, by=world.cast.olga, now=timezone.now())

    for path in ("circles/", "drives/", "blankets/"):
        assert world.vera.get(path).json()["count"] == 0
    assert world.vera.get(f"blankets/{world.blanket.pk}/").status_code == 404


def test_a_page_knows_the_next_and_the_previous(world: World) -> None:
    for name in "CD":
        world.plan(Layout(1, 1, 20), name)

    first = world.vera.get("blankets/", page_size=2).json()
    second = world.vera.client.get(first["next"]).json()

    assert (first["count"], len(first["results"]), first["previous"]) == (3, 2, None)
    assert [blanket["name"] for blanket in second["results"]] == ["D"]
    assert second["next"] is None
    assert second["previous"].endswith("/api/v1/blankets/?page_size=2")
    assert world.vera.get("blankets/", page=9).status_code == 404
    assert world.vera.get("blankets/", page="x").status_code == 404


def test_a_longer_list_takes_no_more_queries(
    world: World, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    world.vera.get("circles/")  # from here on the key counts as lately used
    for _size in range(2):
        with django_assert_num_queries(4):  # key, count, blankets, their squares
            world.vera.get("blankets/")
        with django_assert_num_queries(3):
            world.vera.get("drives/")
        world.plan(Layout(2, 2, 20))
