"""What a machine that watches the site is told."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings
from django.test import Client
from pytest_django import Settings

from shared import troubles
from shared.processes import BASE_DIR
from tests.services import free_port


def test_the_process_is_alive_without_a_database(client: Client) -> None:
    answer = client.get("/health/")

    assert (answer.status_code, answer.json()) == (200, {"status": "alive"})
    assert "no-store" in answer.headers["Cache-Control"]


@pytest.mark.django_db
def test_the_site_is_ready_when_database_and_queue_are_there(client: Client) -> None:
    answer = client.get("/health/ready/")

    assert answer.status_code == 200
    assert answer.json() == {
        "status": "ready",
        "database": "reachable",
        "queue": "reachable",
        "parts": "running",
    }


@pytest.mark.django_db
def test_a_part_that_does_not_start_is_named(
    client: Client, settings: Settings, tmp_path: Path
) -> None:
    settings.DATA_DIR = tmp_path
    troubles.note("scheduler", "The scheduler ends right after its start.")

    answer = client.get("/health/ready/")

    assert answer.status_code == 503
    assert answer.json()["parts"] == "The scheduler ends right after its start."
    troubles.note("scheduler", "")
    assert client.get("/health/ready/").status_code == 200


@pytest.mark.redis
@pytest.mark.django_db
def test_the_site_is_ready_with_redis(client: Client) -> None:
    assert settings.CELERY_BROKER_URL.startswith("redis:")
    assert client.get("/health/ready/").json()["queue"] == "reachable"


@pytest.mark.django_db
def test_a_missing_queue_folder_is_named(
    client: Client, settings: Settings, tmp_path: Path
) -> None:
    settings.CELERY_BROKER_URL = "filesystem://localhost"
    gone = tmp_path / "waiting"
    settings.CELERY_BROKER_TRANSPORT_OPTIONS = {"data_folder_in": str(gone)}
    gone.mkdir()
    assert client.get("/health/ready/").status_code == 200
    shutil.rmtree(gone)

    answer = client.get("/health/ready/")

    assert answer.status_code == 503
    assert answer.json()["queue"] == "The queue's folder is missing."


@pytest.mark.django_db
def test_a_redis_that_is_down_is_named(client: Client, settings: Settings) -> None:
    settings.CELERY_BROKER_URL = f"redis://127.0.0.1:{free_port()}/0"

    answer = client.get("/health/ready/")

    assert (answer.status_code, answer.json()["queue"]) == (503, "Redis does not answer.")


def test_a_database_that_is_down_is_named(tmp_path: Path) -> None:
    ask = (
        "import django; django.setup(); from django.test import Client;"
        "answer = Client().get('/health/ready/', SERVER_NAME='localhost');"
        "print(answer.status_code, answer.content.decode())"
    )
    env = {
        "PATH": os.environ["PATH"],
        "DJANGO_SETTINGS_MODULE": "shared.settings",
        "MITREWISE_DATA": str(tmp_path),
        "MITREWISE_DATABASE_URL": f"postgres://nobody@127.0.0.1:{free_port()}/nothing",
    }

    said = subprocess.run(
        [sys.executable, "-c", ask],
        cwd=BASE_DIR,
        env=env,
        capture_output=True,
        text=True,
        check=True,
    ).stdout

    status, _, body = said.partition(" ")
    assert status == "503"
    assert json.loads(body)["database"] == "The database does not answer."
