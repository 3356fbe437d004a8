"""A short campaign on each kind of database, and that the model notices what must never be."""

import subprocess
import sys

import pytest

from shared.serving import processes

from .life import Life

FAULTS = ["web-killed", "worker-killed", "broken-message"]


def run(*arguments: str) -> str:
    """What it says; the test fails where something is wrong."""
    done = subprocess.run(
        [sys.executable, "-m", "tests.campaign", "--seconds", "15", "--gap", "2", *arguments],
        cwd=processes.BASE_DIR, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def test_nothing_is_lost_on_sqlite() -> None:
    said = run("--seed", "7", "--faults", *FAULTS, "all-killed")

    assert said.rstrip().endswith("Nothing was lost, doubled or begun wrongly.")
    assert "ready again after" in said


@pytest.mark.postgres
def test_nothing_is_lost_on_postgresql() -> None:
    more = ("postgres-killed", "redis-gone", "supervisor-killed")
    said = run("--seed", "7", "--postgres", "--faults", *FAULTS, *more)

    assert said.rstrip().endswith("Nothing was lost, doubled or begun wrongly.")
    assert "ready again after" in said


ORPHAN = """
import subprocess, time
from tests.campaign import orphans
orphans.OUTLIVED_SECONDS = 0.5
orphans.adopt()
known = orphans.Orphans()
own = subprocess.Popen(["sleep", "60"])
subprocess.run(["sh", "-c", "sleep 61 &"], check=True)
for wait in (0, 1, 0.1):
    time.sleep(wait)
    print([each.partition(": ")[2] for each in known.outlived([own.pid])])
orphans.end_all()
print(own.wait(5))
"""


@pytest.mark.skipif(sys.platform != "linux", reason="only Linux lets us adopt orphans")
def test_who_outlives_a_supervisor_is_told_of_and_ends() -> None:
    said = subprocess.run(
        [sys.executable, "-c", ORPHAN], cwd=processes.BASE_DIR, capture_output=True, text=True,
        check=True, timeout=30,
    )  # fmt: skip
    assert said.stdout.splitlines() == ["[]", "['sleep 61']", "[]", "-9"]


@pytest.mark.parametrize(
    ("story", "wrong"),
    [
        ("claimed A1 1, claimed A1 2", "A1 got a second holder"),
        ("claimed B1 1", "B1 was begun on unfinished ['A1']"),
        ("claimed A1 1, finished A1 2", "A1 was finished by somebody who did not have it"),
        ("claimed A1 1, ripped-back A1 1", "A1 was ripped back unfinished"),
        (
            "claimed A1 1, finished A1 1, claimed B1 2, ripped-back A1 1",
            "['A1'] went from under B1",
        ),
        ("claimed A1 1, finished A1 1, claimed B1 2, finished B1 2", ""),
    ],
)
def test_the_model_knows_what_must_never_be(story: str, wrong: str) -> None:
    life = Life(stands_on={"A1": [], "B1": ["A1"]})
    found = [
        each
        for verb, place, member in (event.split() for event in story.split(", "))
        for each in life.happens(verb, {"place": place, "member": int(member)})
    ]

    assert found == ([wrong] if wrong else [])
