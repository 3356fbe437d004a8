"""Figures in the format of Prometheus, read back by its own parser."""

import fcntl
import os
import subprocess
from pathlib import Path
from socket import gethostname

import pytest
from django.test import Client
from prometheus_client.parser import text_string_to_metric_families
from pytest_django import Settings

from accounts import actions
from accounts.models import Role
from drives import tasks
from shared.serving import running
from shared.telling import counted
from tests.cast import Cast
from tests.matrix.world import make_world

pytestmark = pytest.mark.django_db

Figures = dict[tuple[str, frozenset[tuple[str, str]]], float]


def figures(client: Client) -> Figures:
    text = client.get("/metrics/").content.decode()
    return {
        (sample.name, frozenset(sample.labels.items())): sample.value
        for family in text_string_to_metric_families(text)
        for sample in family.samples
    }


def one(found: Figures, name: str, **labels: str) -> float:
    return found.get((name, frozenset(labels.items())), 0)


def test_requests_are_counted_by_their_views(client: Client, cast: Cast) -> None:
    asked = {"view": "accounts:join", "method": "GET", "status": "404"}
    before = one(figures(client), "mitrewise_requests_total", **asked)
    client.get("/join/a-secret-of-somebody/")
    after = figures(client)
    assert one(after, "mitrewise_requests_total", **asked) == before + 1
    assert one(after, "mitrewise_request_seconds_count", view="accounts:join") >= 1
    assert "a-secret-of-somebody" not in str(after)


def test_tasks_are_counted_by_how_they_end(client: Client) -> None:
    ended = {"task": "drives.tasks.forget_calls", "outcome": "success"}
    before = one(figures(client), "mitrewise_tasks_total", **ended)
    tasks.forget_calls.apply()
    assert one(figures(client), "mitrewise_tasks_total", **ended) == before + 1


def test_what_waits_is_told_with_its_age(client: Client) -> None:
    world = make_world()
    actions.invite_person(
        by=world.cast.olga,
        roles=[Role.VOLUNTEER],
        days=60,
        now=world.invitation.created_at,
        email="new@example.org",
    )
    found = figures(client)
    assert one(found, "mitrewise_waiting", work="documents") == 1
    assert one(found, "mitrewise_waiting", work="mails") == 1
    assert one(found, "mitrewise_waiting_seconds", work="documents") > 0
    assert one(found, "mitrewise_rows", work="documents", outcome="queued") == 1
    assert one(found, "mitrewise_database_up") == 1


def test_strangers_read_none(client: Client, settings: Settings) -> None:
    assert client.get("/metrics/", REMOTE_ADDR="192.0.2.7").status_code == 404
    through = {"X-Forwarded-For": "192.0.2.7"}
    assert client.get("/metrics/", headers=through).status_code == 404
    settings.METRICS_TOKEN = "t" * 20
    assert client.get("/metrics/").status_code == 404
    wrong, right = ({"Authorization": f"Bearer {letter * 20}"} for letter in "xt")
    assert client.get("/metrics/", headers=wrong).status_code == 404
    assert client.get("/metrics/", REMOTE_ADDR="192.0.2.7", headers=right).status_code == 200


def test_whatever_host_it_is_called_by(client: Client) -> None:
    assert client.get("/metrics/", HTTP_HOST="10.0.0.7:8000").status_code == 200


def test_a_process_that_just_begins_to_count_stops_nobody(client: Client) -> None:
    new = counted.FOLDER / f"counter_0@{gethostname()}.db"
    new.touch()
    try:
        assert client.get("/metrics/").status_code == 200
    finally:
        new.unlink()


def test_containers_that_share_a_folder_count_apart(tmp_path: Path, settings: Settings) -> None:
    """Each has the same numbers for its processes; who starts forgets only those that are dead."""
    settings.DATA_DIR = tmp_path
    dead = subprocess.Popen(["true"])
    dead.wait()
    counted.TASKS.labels("a task", "success").inc()
    own = counted.FOLDER / f"counter_{os.getpid()}@{gethostname()}.db"
    assert own.exists()
    there = [
        counted.FOLDER / f"counter_{process}.db"
        for process in (
            f"{dead.pid}@{gethostname()}",
            f"{dead.pid}-0@{gethostname()}",
            f"{dead.pid}@a-living-container",
            "1@a-dead-container",
            "1",
        )
    ]
    for file in there:
        file.touch()
    note = tmp_path / "running" / "1@a-living-container"
    note.parent.mkdir()
    (tmp_path / "running" / "1@a-dead-container").touch()
    with note.open("w") as held:
        fcntl.flock(held, fcntl.LOCK_EX)
        counted.forget_the_dead(running.running_hosts())
    assert [file.exists() for file in there] == [False, False, True, False, False]
    assert own.exists()
