"""The log of a blanket."""

from pytest_django import DjangoAssertNumQueries

from .conftest import World


def test_events_come_newest_first(world: World) -> None:
    world.finish("A1")

    answer = world.vera.get(f"blankets/{world.blanket.pk}/events/").json()

    assert [event["verb"] for event in answer["results"]] == ["finished", "claimed", "planned"]
    newest = answer["results"][0]
    assert (newest["by"], newest["by_name"]) == (world.cast.vera.pk, "Vera")
    assert newest["facts"]["place"] == "A1"
    assert (newest["facts"]["member"], newest["facts"]["member_id"]) == (
        "Vera",
        world.cast.vera.pk,
    )


def test_events_come_in_pages_without_more_queries(
    world: World, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    world.finish("A1", "B1", "A2")

    for size, following in ((2, True), (7, False)):
        with django_assert_num_queries(5):  # key, blanket, member, count, events
            answer = world.vera.get(f"blankets/{world.blanket.pk}/events/", page_size=size).json()
        assert (answer["count"], len(answer["results"])) == (7, size)
        assert (answer["next"] is not None) is following
