"""A worker's heart: seen from outside, and what makes it beat."""

from collections.abc import Iterator

import pytest
from celery import signals
from celery.worker import state

from shared.workers import pulse
from shared.workers.heart import Heart
from shared.workers.pulse import Pulse


class Request:
    """What the worker was given; its pool may not have begun it."""


@pytest.fixture
def heart(monkeypatch: pytest.MonkeyPatch) -> Iterator[Heart]:
    """Of a worker, this process, that has long started, and whose turns and tasks are told."""
    for name in ("STARTING_SECONDS", "TURN_SECONDS"):
        monkeypatch.setattr(pulse, name, -1.0)
    told = (signals.heartbeat_sent, signals.task_prerun, signals.task_postrun)
    before = [list(signal.receivers or []) for signal in told]
    kept = Heart()
    Pulse(Heart(kept.file))
    yield kept
    for signal, receivers in zip(told, before, strict=True):
        signal.receivers = receivers


def test_it_has_not_stopped_before_it_began() -> None:
    heart = Heart()
    assert not heart.has_stopped()
    heart.beat(-0.1)
    assert heart.has_stopped()
    heart.beat(60)
    assert not heart.has_stopped()


def test_a_loop_that_turns_is_alive(heart: Heart, monkeypatch: pytest.MonkeyPatch) -> None:
    assert heart.has_stopped()
    monkeypatch.setattr(pulse, "TURN_SECONDS", 60.0)
    signals.heartbeat_sent.send(sender=None)
    assert not heart.has_stopped()


def test_a_pool_that_begins_nothing_is_not(heart: Heart, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(pulse, "TURN_SECONDS", 60.0)
    request = Request()
    state.reserved_requests.add(request)
    signals.heartbeat_sent.send(sender=None)
    assert heart.has_stopped()
    state.active_requests.add(request)
    signals.heartbeat_sent.send(sender=None)
    assert not heart.has_stopped()


def test_one_that_works_itself_is_believed_meanwhile(heart: Heart) -> None:
    signals.task_prerun.send(sender=None)
    assert not heart.has_stopped()
    signals.task_postrun.send(sender=None)
    assert heart.has_stopped()


def test_what_a_forked_process_does_counts_for_nothing(
    heart: Heart, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("os.getpid", lambda: 0)
    signals.task_prerun.send(sender=None)
    assert heart.has_stopped()
