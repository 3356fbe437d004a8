"""DEVELOPERS.md is true: its paths and the names of its glossary are there."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[1]
PAGE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
PATH = re.compile(r"`((?:accounts|drives|shared|templates|tests)/[\w./-]+)`")


def names_in(file: Path) -> Iterator[str]:
    """What ``file`` defines: classes, functions, fields and constants."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ClassDef | ast.FunctionDef):
            yield node.name
        elif isinstance(node, ast.Name) and isinstance(node.ctx, ast.Store):
            yield node.id


def test_every_path_is_there() -> None:
    paths = set(PATH.findall(PAGE))
    assert len(paths) > 20
    assert [path for path in sorted(paths) if not (ROOT / path).exists()] == []


def test_every_name_of_the_glossary_is_there() -> None:
    glossary = PAGE.partition("## The words")[2].partition("\n## ")[0]
    rows = [row.split("|") for row in glossary.splitlines() if row.startswith("| ")]
    named = {name for row in rows for name in re.findall(r"`(\w+)`", row[3])}
    assert len(named) > 50
    rooms = (ROOT / "drives", ROOT / "accounts", ROOT / "shared")
    defined = {name for room in rooms for file in room.rglob("*.py") for name in names_in(file)}
    assert sorted(named - defined) == []
