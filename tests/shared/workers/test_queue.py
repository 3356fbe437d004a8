"""Telling the workers, while there is nobody to tell."""

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from shared.serving import processes
from tests.services import RedisServer, a_redis_of_ones_own
from tests.shared.site import environment

SHORT = 1.0  # seconds: what nobody minds once

SEND = """
import django, time
django.setup()
from django.db import transaction
from shared.workers.queue import tell_workers
for _ in range(2):
    began = time.monotonic()
    with transaction.atomic():
        tell_workers("drives.sheets.tasks.render_sheet", sheet_id=1)
    print(time.monotonic() - began)
"""


@pytest.fixture
def redis() -> Iterator[RedisServer]:
    with a_redis_of_ones_own() as server:
        yield server


@pytest.mark.redis
def test_the_first_who_tells_a_redis_that_hangs_waits_shortly(
    redis: RedisServer, tmp_path: Path
) -> None:
    os.kill(redis.pid, signal.SIGSTOP)

    env = environment(tmp_path) | {"MITREWISE_REDIS_URL": redis.url}
    told = subprocess.run(
        [sys.executable, "-c", SEND], cwd=processes.BASE_DIR, env=env, check=True,
        capture_output=True, text=True,
    )  # fmt: skip

    first, second = map(float, told.stdout.split())
    assert first < SHORT
    assert second < SHORT / 10
