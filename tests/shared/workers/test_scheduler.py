"""The scheduler's book, where the clock does not go on as it should."""

from datetime import timedelta
from pathlib import Path

import pytest

from shared import celery_app
from shared.workers.scheduler import OneOfMany

SWEEP = "send sheets again that nobody looks after"


@pytest.mark.django_db(transaction=True)
def test_a_clock_that_is_put_back_lets_nothing_wait_for_the_time_it_had_told(
    tmp_path: Path,
) -> None:
    scheduler = OneOfMany(celery_app, schedule_filename=str(tmp_path / "book"), lazy=True)
    scheduler.setup_schedule()
    entry = scheduler.schedule[SWEEP]
    entry.last_run_at = entry.default_now() + timedelta(days=120)
    assert entry.is_due()[1] > 100 * 86_400

    scheduler.tick()

    assert scheduler.schedule[SWEEP].is_due()[1] < 60
    scheduler.close()
