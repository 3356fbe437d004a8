"""Limits: so much of a person, of a circle, of a receiver, and then a sentence and 429."""

from datetime import timedelta

import pytest
from django.conf import settings
from django.test import Client, override_settings
from django.utils import timezone

from accounts.models import Member
from drives.actions.paper.sheets import request_sheet
from drives.sheets.kinds import FORECAST, PANELS
from shared.basics.limits import LimitReached, spend
from shared.settings import LIMITS
from tests.cast import Cast
from tests.conftest import Plan
from tests.desk import NOW, Desk


def limit(**rates: dict[str, str]) -> override_settings:
    return override_settings(LIMITS=settings.LIMITS | rates)


def times(most: int, what: str = "keys", **of: int | str) -> int:
    """How many of ``most`` go through."""
    for count in range(most):
        try:
            spend(what, now=NOW, times=1, **of)
        except LimitReached:
            return count
    return most


@limit(keys={"person": "3/hour"})
def test_so_many_and_no_more_until_the_next_window() -> None:
    assert times(5, person=1) == 3
    with pytest.raises(LimitReached) as reached:
        spend("keys", now=NOW + timedelta(minutes=45), person=1)
    assert reached.value.wait == 15 * 60
    assert "15 minutes" in reached.value.detail
    spend("keys", now=NOW + timedelta(hours=1), person=1)


@limit(keys={"person": "3/hour", "circle": "5/hour"})
def test_who_asks_in_vain_does_not_use_up_what_others_have() -> None:
    assert times(50, person=1, circle=7) == 3
    assert times(50, person=2, circle=7) == 2
    assert times(50, person=2, circle=8) == 0


@override_settings(
    LIMITS=settings.LIMITS | {"keys": {"person": "1/hour"}},
    CACHES={
        "default": {
            "BACKEND": "django.core.cache.backends.redis.RedisCache",
            "LOCATION": "redis://127.0.0.1:1",  # where nobody listens
        }
    },
)
def test_without_the_cache_nothing_is_limited() -> None:
    assert times(5, person=1) == 5


def test_each_limit_can_be_read() -> None:
    with override_settings(LIMITS=LIMITS):
        for what, of in LIMITS.items():
            spend(what, now=NOW, **dict.fromkeys(of, 1))


@limit(pages={"person": "2/min"})
@pytest.mark.django_db
def test_pages_have_a_limit_for_each_address(client: Client) -> None:
    answers = [client.get("/account/login/") for _ in range(3)]

    assert [answer.status_code for answer in answers] == [200, 200, 429]
    assert 0 < int(answers[2].headers["Retry-After"]) <= 60
    assert "go on in a minute" in answers[2].content.decode()
    assert client.get("/account/login/", REMOTE_ADDR="192.0.2.7").status_code == 200
    assert client.get("/health/").status_code == 200


@pytest.fixture
def large(plan: Plan) -> Desk:
    return plan(3, 3)


def ask(desk: Desk, by: Member, **options: object) -> None:
    request_sheet(kind=PANELS, blanket=desk.blanket, by=by, options=options, now=NOW)


@limit(**{"look-aheads": {"person": "2/hour", "circle": "3/hour"}})
def test_what_workers_make_is_limited_by_person_and_by_circle(cast: Cast, large: Desk) -> None:
    ask(large, cast.olga, pace=1)
    ask(large, cast.olga, pace=2)
    with pytest.raises(LimitReached):
        ask(large, cast.olga, pace=3)
    ask(large, cast.cora, pace=4)
    with pytest.raises(LimitReached):
        ask(large, cast.cora, pace=5)
    assert large.blanket.sheets.count() == 3
    ask(large, cast.olga, pace=1)  # it is there already, and so costs nothing


@limit(**{"look-aheads": {"person": "1/hour"}})
def test_pages_and_api_answer_429(cast: Cast, large: Desk) -> None:
    request_sheet(kind=PANELS, blanket=large.blanket, by=cast.olga, options={}, now=timezone.now())
    client = Client()
    assert cast.olga.user
    client.force_login(cast.olga.user)

    page = client.post(f"/blankets/{large.blanket.pk}/forecast/")
    api = client.post(f"/api/v1/blankets/{large.blanket.pk}/forecast/", content_type="text/json")

    assert page.status_code == api.status_code == 429
    assert int(page.headers["Retry-After"]) > 0
    assert int(api.headers["Retry-After"]) > 0
    assert api.json()["type"].endswith("/too-many-requests")
    assert not large.blanket.sheets.filter(kind=FORECAST.code).exists()
