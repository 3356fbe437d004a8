"""All that a process, or the cache, keeps from one request to the next, and why none of it is old.

Several hosts serve the same rows: what one has kept must not be wrong when another one writes, nor
when the database is restored below both.
"""

import ast
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[1]
ROOMS = ("accounts", "drives", "shared")

MADE_OF_ITS_ARGUMENTS = "made of its arguments alone, which are values"
MADE_OF_THE_CODE = "made of files of the code or its packages: the same as long as it runs"

OF_ONE_SEARCH = "of one search alone, and gone with it"

KEPT = {
    # in a process
    "accounts/pages/forms.py:time_zones": MADE_OF_THE_CODE,
    "drives/api/shapes/typed.py:shape": MADE_OF_THE_CODE,
    "drives/audit/scratch.py:meant_parts": MADE_OF_THE_CODE,
    "drives/craft/gauge/sharing.py:search": OF_ONE_SEARCH,
    "drives/craft/places.py:letters": MADE_OF_ITS_ARGUMENTS,
    "drives/craft/places.py:row_of_places": MADE_OF_ITS_ARGUMENTS,
    "drives/demo/people.py:_hash": MADE_OF_THE_CODE,
    "drives/drawing/looks.py:strokes_of": MADE_OF_ITS_ARGUMENTS,
    "drives/drawing/weaves.py:woven": MADE_OF_ITS_ARGUMENTS,
    "drives/models/blanket.py:_plan_of": "its key is new with every change, and never comes twice",
    "drives/pages/landing.py:_picture": MADE_OF_ITS_ARGUMENTS,
    "drives/words/countries.py:countries": MADE_OF_THE_CODE,
    "drives/sheets/kinds/rota.py:kept": OF_ONE_SEARCH,
    "drives/sheets/press.py:_styles": MADE_OF_THE_CODE,
    "shared/needs/quick.py:_known_migrations": MADE_OF_THE_CODE,
    "shared/workers/queue.py:_redis": "a connection, which knows nothing of what it carries",
    # in the cache, which all hosts share
    "drives/pages/blanket/look_at.py": "by the revision of the circle's events",
    "drives/pages/blanket/page.py": "by the board's tag: revision, reader, day, looks",
    "shared/basics/limits.py": "counts, in windows of time",
}


def kept(file: Path) -> Iterator[str]:
    """What is kept there: functions that are, by name; and the file if it speaks to the cache."""
    name, source = file.relative_to(ROOT).as_posix(), ast.parse(file.read_text())
    for node in ast.walk(source):
        match node:
            case ast.FunctionDef() if any(_keeps(each) for each in node.decorator_list):
                yield f"{name}:{node.name}"
            case ast.ImportFrom(module="django.core.cache"):
                yield name
            case ast.Global():
                yield f"{name}: {', '.join(node.names)}"


def _keeps(decorator: ast.expr) -> bool:
    called = decorator.func if isinstance(decorator, ast.Call) else decorator
    return isinstance(called, ast.Name) and called.id in ("cache", "lru_cache")


def test_all_that_is_kept_is_known_with_its_reason() -> None:
    files = (file for room in ROOMS for file in (ROOT / room).rglob("*.py"))
    assert sorted(each for file in files for each in kept(file)) == sorted(KEPT)
