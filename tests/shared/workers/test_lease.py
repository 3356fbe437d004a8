"""A lease is made longer for as long as the work takes, and no longer."""

import threading

import pytest

from shared.workers.lease import held

PATIENCE_SECONDS = 60


def test_it_beats_until_the_work_is_done_also_when_a_beat_fails(
    caplog: pytest.LogCaptureFixture,
) -> None:
    heard = threading.Semaphore(0)
    before = set(threading.enumerate())

    def beat() -> None:
        heard.release()
        raise OSError("the database is away")

    with held(beat, every=0.001):
        assert all(heard.acquire(timeout=PATIENCE_SECONDS) for _beat in range(3))
    assert set(threading.enumerate()) <= before
    assert "a lease could not be made longer" in caplog.text
