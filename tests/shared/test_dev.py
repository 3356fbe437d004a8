"""The script ``dev`` says what is wrong before it sets anything up."""

import subprocess

import pytest

from shared.serving.processes import BASE_DIR


def dev(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        ["sh", str(BASE_DIR / "dev"), *arguments],
        cwd="/",
        capture_output=True,
        text=True,
        timeout=30,
        check=False,
    )


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (["run", "--port"], "--port needs a value"),
        (["run", "--data"], "--data needs a value"),
        (["run", "--port", "eighty"], "A port is a number from 1 to 65535, not “eighty”."),
        (["run", "--colour", "red"], "./dev run does not know “--colour”."),
        (["knit"], "There is no ./dev knit."),
    ],
)
def test_a_wrong_argument_is_named(arguments: list[str], sentence: str) -> None:
    ended = dev(*arguments)

    assert ended.returncode != 0
    assert sentence in ended.stderr
    assert ended.stdout == ""


def test_help_names_every_command() -> None:
    ended = dev("help")

    assert ended.returncode == 0
    for command in ("run", "test", "check", "bench", "manage", "messages", "lock"):
        assert f"./dev {command}" in ended.stdout


def test_nothing_to_do_shows_the_help() -> None:
    assert dev().stdout == dev("help").stdout
