"""The planner page's answer to one change, from the request to the bytes, in this process."""

import os
import tempfile
from collections.abc import Iterator
from functools import partial

import django
from django.core.management import call_command

from .figures import Figure, milliseconds, side_by_side

SMALL, LARGE = 100, 150


def figures() -> Iterator[Figure]:
    with tempfile.TemporaryDirectory(prefix="mitrewise-bench-") as data:
        os.environ["MITREWISE_DATA"] = data
        os.environ["DJANGO_SETTINGS_MODULE"] = "tests.bench.settings"
        django.setup()
        call_command("migrate", verbosity=0)
        yield _figure()


def _figure() -> Figure:
    from django.test import Client

    from .seed import planner

    drive, organiser = planner()
    client = Client(headers={"host": "localhost", "hx-request": "true"})
    client.force_login(organiser)

    def change(side: int) -> None:
        """A place taken out of a large blanket with seams, a large square and all to be told."""
        sent: dict[str, str | int] = {
            "columns": side, "rows": side, "stitches": 20, "mitre": "paired", "brush": 1,
            "missing": "B7", "large": "C3×2", "seams": "T–U 20–21", "gauge": 20, "press": "D9",
            "border": 8, "weights": "8 8.5", "minutes": "40",
        }  # fmt: skip
        answer = client.get(f"/drives/{drive}/plan/layout/", sent)
        assert answer.status_code == 200
        assert f"Squares: {side * side - 5:d}" in answer.text

    change(SMALL)  # what is done once in a process: templates, the names of places
    change(LARGE)
    large, small = side_by_side(partial(change, LARGE), partial(change, SMALL), times=5)
    return Figure(
        "planner page, one change: 22 500 / 10 000 squares",
        milliseconds(large), milliseconds(small), large / small, 2.6, at_least=False,
    )  # fmt: skip
