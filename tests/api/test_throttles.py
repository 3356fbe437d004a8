"""How often one may call."""

from collections.abc import Iterator

import pytest
from django.conf import settings
from django.core.cache import cache
from django.test import override_settings

from shared.settings import REST_FRAMEWORK

from .conftest import Api, World

BODY = {"columns": 1, "rows": 1, "stitches": 2}
RATES = {"calls": "4/min", "plan": "3/min", "plan-anonymous": "2/min"}


@pytest.fixture(autouse=True)
def _limits() -> Iterator[None]:
    cache.clear()
    with override_settings(REST_FRAMEWORK={**REST_FRAMEWORK, "DEFAULT_THROTTLE_RATES": RATES}):
        yield
    cache.clear()


def test_anybody_may_plan_a_little(anybody: Api) -> None:
    answers = [anybody.post("plan/", BODY) for _ in range(3)]

    assert [answer.status_code for answer in answers] == [200, 200, 429]
    assert answers[-1].json()["type"].endswith("/too-many-requests")
    assert 0 < int(answers[-1]["Retry-After"]) <= 60


def test_anybody_is_an_address_whatever_a_header_says(anybody: Api) -> None:
    answers = [anybody.post("plan/", BODY, x_forwarded_for=f"10.0.0.{n}") for n in range(3)]
    elsewhere = anybody.client.post("/api/v1/plan/", BODY, REMOTE_ADDR="192.0.2.7")

    assert [answer.status_code for answer in answers] == [200, 200, 429]
    assert elsewhere.status_code == 200


def test_who_has_planned_enough_can_still_read_how(anybody: Api) -> None:
    for _ in range(3):
        anybody.post("plan/", BODY)

    assert anybody.get("schema/").status_code == 200


def test_members_have_limits_of_their_own_and_wider_ones(world: World) -> None:
    plans = [world.vera.post("plan/", BODY).status_code for _ in range(4)]
    reads = [world.vera.get("circles/").status_code for _ in range(5)]

    assert plans == [200, 200, 200, 429]
    assert reads == [200, 200, 200, 200, 429]
    assert world.olga.get("circles/").status_code == 200


def test_a_large_plan_counts_by_its_places(anybody: Api, world: World) -> None:
    limits = settings.LIMITS | {"plans": {"address": "250/hour", "person": "450/hour"}}
    large, small = {**BODY, "columns": 10, "rows": 20}, {**BODY, "columns": 5, "rows": 10}
    rates = {**REST_FRAMEWORK, "DEFAULT_THROTTLE_RATES": dict.fromkeys(RATES)}
    with override_settings(LIMITS=limits, REST_FRAMEWORK=rates):
        answers = [anybody.post("plan/", body).status_code for body in (large, large, small, small)]
        theirs = [world.vera.post("plan/", large).status_code for _ in range(3)]

    assert answers == [200, 429, 200, 429]
    assert theirs == [200, 200, 429]
