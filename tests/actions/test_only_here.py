"""What only actions do: they alone lock rows, and that in one place."""

import ast
from collections.abc import Collection, Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
ROOMS = ("accounts", "drives", "shared")
LOCKS = ("accounts/actions/locks.py", "drives/actions/locks.py")


def calls(source: str, named: Collection[str]) -> Iterator[tuple[int, str]]:
    """Each method that is called, or handed on, under one of these names: its line and its name."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Attribute) and node.attr in named:
            yield node.lineno, node.attr


def found(named: Collection[str], *, but: Collection[str]) -> list[str]:
    """Where the site's own code does so, ``but`` in these files and folders."""
    files = (file for room in ROOMS for file in sorted((ROOT / room).rglob("*.py")))
    return [
        f"{name}:{line} {what}"
        for file in files
        if not (name := file.relative_to(ROOT).as_posix()).startswith(tuple(but))
        for line, what in calls(file.read_text(), named)
    ]


def test_rows_are_locked_in_one_place() -> None:
    assert found({"select_for_update"}, but=LOCKS) == []


def test_a_lock_elsewhere_would_be_found() -> None:
    assert len(found({"select_for_update"}, but=[])) > len(LOCKS)
    planted = "rows = Member.objects.filter(pk=1)\nrows.select_for_update(no_key=True).get()\n"
    assert list(calls(planted, {"select_for_update"})) == [(2, "select_for_update")]
