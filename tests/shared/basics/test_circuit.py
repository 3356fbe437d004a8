"""Doing without what is away: the circuit, and the cache that it stands in front of."""

import os
import signal
import time
from collections.abc import Iterator

import pytest
from django.core.cache.backends.base import BaseCache
from django.test import Client
from pytest_django import Settings

from shared.basics.circuit import Circuit
from shared.storage.cache import SteppingAside
from tests.cast import PASSWORD, Cast
from tests.services import RedisServer, a_redis_of_ones_own, free_port

SHORT = 1.0  # seconds: longer than Redis is waited for, shorter than anybody would mind


class Part:
    """Something that may be away."""

    def __init__(self) -> None:
        self.away = False
        self.asked = 0

    def ask(self) -> str:
        self.asked += 1
        if self.away:
            raise ConnectionError("nobody there")
        return "answer"


def test_what_is_away_is_asked_once_in_a_while_and_told_once(
    caplog: pytest.LogCaptureFixture,
) -> None:
    part, circuit = Part(), Circuit("part", seconds=0.05)

    def ask() -> str:
        return circuit.call(part.ask, otherwise=lambda: "without")

    assert ask() == "answer"
    part.away = True
    assert [ask() for _ in range(5)] == ["without"] * 5
    assert part.asked == 2
    time.sleep(0.06)
    assert (ask(), part.asked) == ("without", 3)
    part.away = False
    time.sleep(0.06)
    assert ask() == "answer"
    assert [record.getMessage() for record in caplog.records] == [
        "The part is away; the site goes on without: nobody there",
        "The part is back.",
    ]


def test_a_callers_own_mistake_opens_nothing() -> None:
    circuit = Circuit("part")

    def mistaken() -> str:
        raise ValueError

    for _ in range(2):
        with pytest.raises(ValueError):
            circuit.call(mistaken, otherwise=lambda: "without")


def use(cache: BaseCache) -> float:
    """All that is done with a cache; how many seconds it took."""
    began = time.monotonic()
    cache.clear()
    assert cache.add("a", 1)
    assert not cache.add("a", 2)
    assert cache.get("a") == 1
    assert cache.incr("a", 2) == 3
    with pytest.raises(ValueError, match="nothing"):
        cache.incr("nothing")
    cache.set("b", [1.5], 60)
    assert "b" in cache
    assert cache.get_many(["a", "b", "c"]) == {"a": 3, "b": [1.5]}
    assert cache.set_many({"c": 1}) == []
    assert cache.touch("c", 60)
    assert cache.delete("c")
    cache.delete_many(["a", "b"])
    assert cache.get("a", "gone") == "gone"
    cache.close()
    return time.monotonic() - began


@pytest.fixture
def redis() -> Iterator[RedisServer]:
    with a_redis_of_ones_own() as server:
        yield server


def a_cache(url: str) -> SteppingAside:
    return SteppingAside(url, {})


def test_with_redis_a_cache_as_any() -> None:
    with a_redis_of_ones_own() as server:
        cache = a_cache(server.url)
        use(cache)
        cache.set("kept", "there")
        assert a_cache(server.url).get("kept") == "there"


def test_without_redis_it_counts_in_memory() -> None:
    assert use(a_cache(f"redis://127.0.0.1:{free_port()}/0")) < SHORT


def test_a_redis_that_hangs_is_waited_for_once(redis: RedisServer) -> None:
    cache = a_cache(redis.url)
    use(cache)
    os.kill(redis.pid, signal.SIGSTOP)
    assert use(cache) < SHORT


def test_a_redis_that_is_full_is_done_without(redis: RedisServer) -> None:
    redis.fill()
    assert use(a_cache(redis.url)) < SHORT


@pytest.fixture(params=["stopped", "hanging", "full"])
def _without_redis(request: pytest.FixtureRequest, redis: RedisServer, settings: Settings) -> None:
    url = redis.url
    match request.param:
        case "stopped":
            url = f"redis://127.0.0.1:{free_port()}/0"
        case "hanging":
            os.kill(redis.pid, signal.SIGSTOP)
        case "full":
            redis.fill()
    settings.CACHES = {
        "default": {"BACKEND": "shared.storage.cache.SteppingAside", "LOCATION": url}
    }


@pytest.mark.django_db
@pytest.mark.usefixtures("_without_redis")
def test_pages_the_api_and_signing_in_go_on_without_it(cast: Cast, client: Client) -> None:
    began = time.monotonic()

    told = {"login": "vera@example.org", "password": PASSWORD}
    assert client.post("/account/login/", told).status_code == 302
    assert client.get("/").status_code == 200
    answer = client.get("/api/v1/circles/")

    assert answer.status_code == 200
    assert time.monotonic() - began < 10 * SHORT
