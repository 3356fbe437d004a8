"""A host has the pins of ``run`` alone; the machines of contributors have more."""

import subprocess

import pytest

from shared.serving.processes import BASE_DIR
from tests.production.environment import disagreements, python_of_run


def test_no_package_misses_another() -> None:
    assert disagreements() == ""


@pytest.mark.parametrize(
    "module",
    [
        "kombu.transport.redis",
        "kombu.transport.filesystem",
        "django.db.backends.postgresql.base",
        "django.core.cache.backends.redis",
        "storages.backends.s3",
    ],
)
def test_the_parts_that_settings_choose_can_be_imported(module: str) -> None:
    """They are imported by name, late: nothing else would notice."""
    tried = subprocess.run(
        [python_of_run(), "-c", f"import {module}"],
        cwd=BASE_DIR,
        capture_output=True,
        text=True,
        check=False,
    )

    assert tried.returncode == 0, tried.stderr
