"""Claiming a square, and letting it go."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from drives.models import Claim
from shared.basics.days import day_of

from .conftest import World

LONDON = ZoneInfo("Europe/London")  # the circle's clock


def test_a_volunteer_claims_a_square(world: World) -> None:
    answer = world.vera.post(world.at("A1", "claim"))

    claim = answer.json()
    assert answer.status_code == 201
    assert (claim["place"], claim["member"], claim["member_name"]) == (
        "A1",
        world.cast.vera.pk,
        "Vera",
    )
    taken, due = (datetime.fromisoformat(claim[name]) for name in ("taken_at", "due_at"))
    assert day_of(due, LONDON) - day_of(taken, LONDON) == timedelta(days=14)
    assert not claim["late"]


def test_the_same_member_again_changes_nothing(world: World) -> None:
    first = world.vera.post(world.at("A1", "claim"))
    again = world.vera.post(world.at("A1", "claim"))

    assert (first.status_code, again.status_code) == (201, 200)
    assert again.json() == first.json()
    assert Claim.objects.count() == 1


def test_a_coordinator_claims_for_somebody_on_paper(world: World) -> None:
    answer = world.cora.post(world.at("A1", "claim"), {"member": world.cast.paul.pk})

    assert answer.status_code == 201
    assert answer.json()["member_name"] == "Paul"


def test_a_volunteer_cannot_claim_for_others(world: World) -> None:
    for member, status in ((world.cast.paul, 403), (world.cast.vera, 201)):
        answer = world.vera.post(world.at("A1", "claim"), {"member": member.pk})
        assert answer.status_code == status


def test_who_does_not_knit_cannot_claim_for_themselves(world: World) -> None:
    answer = world.cora.post(world.at("A1", "claim"))

    assert answer.status_code == 403
    assert answer.json()["type"].endswith("/not-allowed")


def test_nobody_claims_for_somebody_who_does_not_knit(world: World) -> None:
    answer = world.olga.post(world.at("A1", "claim"), {"member": world.cast.cora.pk})

    assert answer.status_code == 422
    assert answer.json()["errors"][0]["field"] == "member"
    assert "Cora" in answer.json()["detail"]


def test_a_member_of_another_circle_is_nobody_here(world: World) -> None:
    stranger = world.cast.stan.memberships.get()

    answer = world.olga.post(world.at("A1", "claim"), {"member": stranger.pk})

    assert answer.status_code == 404


def test_what_stands_in_the_way_is_told(world: World) -> None:
    waiting = world.vera.post(world.at("B2", "claim"))
    world.vera.post(world.at("A1", "claim"))
    taken = world.olga.post(world.at("A1", "claim"))
    world.vera.post(world.at("A1", "finish"))
    finished = world.olga.post(world.at("A1", "claim"))
    for place in ("B1", "A2"):
        world.vera.post(world.at(place, "claim"))
    for place in ("B1", "A2"):
        world.cora.post(world.at(place, "finish"))
    for place in ("C1", "B2"):
        world.vera.post(world.at(place, "claim"))
    enough = world.vera.post(world.at("A3", "claim"))

    told = [
        (answer.status_code, answer.json()["type"].rpartition("/")[2])
        for answer in (waiting, taken, finished, enough)
    ]
    assert told == [
        (409, "not-ready"),
        (409, "already-taken"),
        (409, "already-finished"),
        (409, "too-many-claims"),
    ]
    assert waiting.json()["waiting_for"] == ["A2", "B1"]
    assert "A2 and B1" in waiting.json()["detail"]
    assert "Vera" in taken.json()["detail"]
    assert enough.json()["limit"] == 2


@pytest.mark.parametrize("who", ["vera", "cora", "olga"])
def test_a_square_is_given_back_by_its_member_or_for_them(world: World, who: str) -> None:
    world.vera.post(world.at("A1", "claim"))

    answer = getattr(world, who).post(world.at("A1", "give-back"))

    assert answer.status_code == 200
    assert answer.json()["ending"] == "given back"
    assert world.vera.get(world.at("A1")).json()["state"] == "ready"


def test_nobody_gives_back_what_is_not_theirs(world: World) -> None:
    world.olga.post(world.at("A1", "claim"))

    theirs = world.vera.post(world.at("A1", "give-back"))
    nobodys = world.vera.post(world.at("B1", "give-back"))

    assert (theirs.status_code, nobodys.status_code) == (409, 409)
    assert theirs.json()["type"].endswith("/not-yours")
    assert nobodys.json()["type"].endswith("/not-taken")


def test_a_coordinator_extends_and_releases(world: World) -> None:
    claim = world.vera.post(world.at("A1", "claim")).json()

    longer = world.cora.post(world.at("A1", "extend"), {"days": 7})
    freed = world.cora.post(world.at("A1", "release"))

    told, more = (datetime.fromisoformat(one["due_at"]) for one in (claim, longer.json()))
    assert day_of(more, LONDON) - day_of(told, LONDON) == timedelta(days=7)
    assert (freed.status_code, freed.json()["ending"]) == (200, "released")
    for call, body in (("extend", {"days": 7}), ("release", None)):
        assert world.vera.post(world.at("A1", call), body).status_code == 403


@pytest.mark.parametrize("days", [0, 366, "7", None, 1.5])
def test_an_extension_has_its_limits(world: World, days: object) -> None:
    world.vera.post(world.at("A1", "claim"))

    answer = world.cora.post(world.at("A1", "extend"), {"days": days})

    assert answer.status_code == 422
    assert answer.json()["type"].endswith("/invalid-input")


def test_a_late_claim_is_told(world: World) -> None:
    world.vera.post(world.at("A1", "claim"))
    past = timezone.now() - timedelta(days=20)
    Claim.objects.update(taken_at=past, due_at=past + timedelta(days=14))

    assert world.vera.get(world.at("A1")).json()["claim"]["late"] is True


def test_a_claim_is_lean(world: World, django_assert_num_queries: DjangoAssertNumQueries) -> None:
    world.vera.get("circles/")  # from here on the key counts as lately used
    world.blanket.plan()  # and the process knows the plan
    # Key, square, member; savepoint, member held, claims in hand, square, claim, event, release.
    with django_assert_num_queries(10):
        world.vera.post(world.at("A1", "claim"))
