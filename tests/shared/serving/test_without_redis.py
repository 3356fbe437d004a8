"""The whole site, with a Redis that is full for a while."""

import json
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.services import RedisServer, a_redis_of_ones_own, free_port
from tests.shared.site import Site, descendants, environment, eventually, everybody, migrated


def ready(site: Site) -> dict[str, str]:
    try:
        asked = urllib.request.urlopen(f"http://127.0.0.1:{site.port}/health/ready/", timeout=30)
    except urllib.error.HTTPError as answer:
        asked = answer
    with asked:
        told: dict[str, str] = json.load(asked)
    return told


@pytest.fixture
def port() -> int:
    return free_port()


@pytest.fixture
def redis(port: int) -> Iterator[RedisServer]:
    with a_redis_of_ones_own(port) as server:
        yield server


@pytest.fixture
def site(tmp_path: Path, redis: RedisServer) -> Iterator[Site]:
    migrated(environment(tmp_path))
    site = Site(tmp_path, MITREWISE_REDIS_URL=redis.url)
    try:
        site.wait_until_announced(9)
        yield site
    finally:
        site.seen |= descendants(site.process.pid)
        site.process.terminate()
        site.process.wait(30)
        assert not site.left_alive()


@pytest.mark.redis
def test_a_full_redis_ends_nothing_for_good(site: Site, redis: RedisServer) -> None:
    eventually(lambda: ready(site)["status"] == "ready")
    redis.fill()
    eventually(lambda: ready(site)["queue"].startswith("Redis is full"))
    time.sleep(5)  # in which the scheduler and the workers meet that more than once
    assert site.get("/health/") == 200
    assert site.get("/account/login/") == 200
    redis.make_room()
    eventually(lambda: ready(site)["status"] == "ready", within=60)
    eventually(lambda: len(descendants(site.process.pid)) >= 9)
    assert site.process.pid in everybody()
