"""``Idempotency-Key``: a call acts once, however often it is sent."""

from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from typing import Any

import pytest
from django.db import connection, transaction
from django.utils import timezone

from accounts.actions import forget_calls, remove_member
from accounts.models import Event, IdempotentCall
from drives.models import Claim

from .conftest import World, make_world


def test_the_same_call_again_gets_the_first_answer(world: World) -> None:
    first = world.vera.post(world.at("A1", "claim"), idempotency_key="k-1")
    world.vera.post(world.at("A1", "give-back"))
    again = world.vera.post(world.at("A1", "claim"), idempotency_key="k-1")

    assert (first.status_code, again.status_code) == (201, 201)
    assert again.json() == first.json()
    assert again["Idempotent-Replayed"] == "true"
    assert "Idempotent-Replayed" not in first
    assert Claim.objects.count() == 1


def test_a_key_belongs_to_one_call(world: World) -> None:
    body = {"member": world.cast.paul.pk}
    world.olga.post(world.at("A1", "claim"), body, idempotency_key="k")

    other_body = world.olga.post(world.at("A1", "claim"), idempotency_key="k")
    other_call = world.olga.post(world.at("A1", "finish"), body, idempotency_key="k")

    for answer in (other_body, other_call):
        assert answer.status_code == 422
        assert answer.json()["type"].endswith("/idempotency-key-reused")


def test_a_key_is_its_callers_alone(world: World) -> None:
    world.vera.post(world.at("A1", "claim"), idempotency_key="k")

    answer = world.olga.post(world.at("A1", "claim"), idempotency_key="k")

    assert answer.json()["type"].endswith("/already-taken")


def test_what_is_refused_is_not_kept(world: World) -> None:
    refused = world.vera.post(world.at("B1", "claim"), idempotency_key="k")
    world.finish("A1")
    again = world.vera.post(world.at("B1", "claim"), idempotency_key="k")

    assert (refused.status_code, again.status_code) == (409, 201)


@pytest.mark.parametrize("key", ["", "two words", "x" * 256, "ключ"])
def test_an_unusable_key_is_refused(world: World, key: str) -> None:
    answer = world.vera.post(world.at("A1", "claim"), idempotency_key=key)

    assert answer.status_code == 400
    assert answer.json()["type"].endswith("/bad-idempotency-key")
    assert not Claim.objects.exists()


def test_every_call_that_acts_takes_a_key(world: World) -> None:
    body = {"columns": 1, "rows": 1, "stitches": 2, "name": "N", "gauge": 20}
    calls: list[tuple[str, Any]] = [
        ("blankets/", {**body, "drive": world.drive.pk}),
        (world.at("A1", "claim"), {"member": world.cast.paul.pk}),
        (world.at("A1", "extend"), {"days": 3}),
        (world.at("A1", "release"), None),
        (world.at("A1", "claim"), None),
        (world.at("A1", "give-back"), None),
        (world.at("A1", "claim"), None),
        (world.at("A1", "finish"), None),
        (world.at("A1", "rip-back"), None),
        (f"blankets/{world.blanket.pk}/sheets/", {"kind": "status"}),
    ]
    for number, (path, sent) in enumerate(calls):
        first = world.olga.post(path, sent, idempotency_key=f"k{number}")
        before = Event.objects.count()
        again = world.olga.post(path, sent, idempotency_key=f"k{number}")
        assert first.status_code in (200, 201, 202), (path, first.content)
        assert (again.status_code, again.json()) == (first.status_code, first.json())
        assert again["Idempotent-Replayed"] == "true"
        assert Event.objects.count() == before


def test_planning_ignores_a_key(world: World) -> None:
    body = {"columns": 1, "rows": 1, "stitches": 2}

    assert world.vera.post("plan/", body, idempotency_key="k").status_code == 200
    assert not IdempotentCall.objects.exists()


def test_old_calls_are_forgotten(world: World) -> None:
    world.vera.post(world.at("A1", "claim"), idempotency_key="k")

    assert forget_calls(before=timezone.now() - timedelta(hours=1)) == 0
    assert forget_calls(before=timezone.now()) == 1
    assert world.vera.post(world.at("A1", "claim"), idempotency_key="k").status_code == 200


@pytest.mark.postgres
@pytest.mark.django_db(transaction=True)
def test_a_twin_that_comes_meanwhile_waits_for_the_first_answer() -> None:
    """The first call is held uncommitted while the second one is sent."""
    world = make_world()
    path = world.at("A1", "claim")

    def call() -> Any:
        try:
            return world.vera.post(path, idempotency_key="k")
        finally:
            connection.close()

    with ThreadPoolExecutor(1) as pool:
        with transaction.atomic():
            first = call_here(world, path)
            twin = pool.submit(call)
            with pytest.raises(TimeoutError):
                twin.result(timeout=0.5)
        second = twin.result(timeout=10)

    assert (first.status_code, second.status_code) == (201, 201)
    assert second.json() == first.json()
    assert second["Idempotent-Replayed"] == "true"
    assert Claim.objects.count() == 1


def call_here(world: World, path: str) -> Any:
    return world.vera.post(path, idempotency_key="k")


@pytest.mark.postgres
@pytest.mark.django_db(transaction=True)
def test_of_eight_at_once_one_acts() -> None:
    world = make_world()

    def call(_number: int) -> Any:
        try:
            return world.vera.post(world.at("A1", "claim"), idempotency_key="k")
        finally:
            connection.close()

    with ThreadPoolExecutor(8) as pool:
        answers = list(pool.map(call, range(8)))

    assert {answer.status_code for answer in answers} == {201}
    assert sum("Idempotent-Replayed" in answer for answer in answers) == 7
    assert all(answer.json() == answers[0].json() for answer in answers)
    assert Event.objects.filter(verb="claimed").count() == 1


def test_who_was_removed_is_not_told_again_what_they_were_told_before(world: World) -> None:
    first = world.vera.post(world.at("A1", "claim"), idempotency_key="k")
    remove_member(member=world.cast.vera, by=world.cast.olga, now=timezone.now())
    again = world.vera.post(world.at("A1", "claim"), idempotency_key="k")

    assert (first.status_code, again.status_code) == (201, 422)
    assert again.json()["type"].endswith("/idempotency-key-spent")
