"""What one place alone does: actions write rows, locks.py locks them, access.py finds them."""

import ast
from collections.abc import Collection, Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
ROOMS = ("accounts", "drives", "shared")

LOCKS = ("accounts/actions/locks.py", "drives/actions/locks.py")

WRITING = {
    *("save", "create", "update", "delete", "bulk_create", "bulk_update"),
    *("get_or_create", "update_or_create", "save_changed"),
    *("note", "end", "create_user"),  # the rows' own verbs, which do so
}
# Beside actions: the rows' own verbs, what a migration does to old rows, and the invented circle.
WRITERS = (
    *("accounts/actions/", "drives/actions/"),
    *(
        "shared/storage/bucket.py",  # a storage
        "shared/basics/limits.py",  # counts, in the cache
        "shared/basics/changes.py",
        "shared/workers/only_one.py",
        "accounts/models/event.py",
        "accounts/models/user.py",
        "drives/models/piece.py",
    ),
    *("accounts/migrations/", "drives/migrations/", "drives/demo/"),
)


def calls(source: str, named: Collection[str]) -> Iterator[tuple[int, str]]:
    """Each call by one of these names: its line and its name.

    Files are no rows: a ``storage`` may save and delete them. The environment is none either.
    """
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.Call(ast.Attribute(ast.Name("storage" | "default_storage"))):
                continue
            case ast.Call(ast.Attribute(ast.Attribute(ast.Name("os"), "environ"))):
                continue
            case ast.Call(ast.Attribute(_, name) | ast.Name(name)) if name in named:
                yield node.lineno, name


def found(named: Collection[str], *, but: Collection[str]) -> list[str]:
    """Where the site's own code does so, ``but`` in these files and folders.

    The core knows no rows: its dictionaries may be updated.
    """
    files = (file for room in ROOMS for file in sorted((ROOT / room).rglob("*.py")))
    return [
        f"{name}:{line} {what}"
        for file in files
        if not (name := file.relative_to(ROOT).as_posix()).startswith(("drives/craft/", *but))
        for line, what in calls(file.read_text(), named)
    ]


def test_rows_are_locked_in_one_place() -> None:
    """``update_or_create`` locks the row that it finds, unseen."""
    assert found({"select_for_update", "update_or_create"}, but=LOCKS) == []


def test_a_lock_elsewhere_would_be_found() -> None:
    assert len(found({"select_for_update"}, but=[])) > len(LOCKS)
    planted = "rows = Member.objects.filter(pk=1)\nrows.select_for_update(no_key=True).get()\n"
    assert list(calls(planted, {"select_for_update"})) == [(2, "select_for_update")]


def test_only_actions_write_rows() -> None:
    assert found(WRITING, but=WRITERS) == []


def test_no_page_finds_a_row_by_its_id_alone() -> None:
    """That is for access.py, which asks who wants it."""
    assert found({"get_object_or_404", "get_list_or_404"}, but=[]) == []


def test_a_save_says_what_it_saves() -> None:
    """A whole row, saved again, would undo what others have written meanwhile."""
    files = [*(ROOT / "accounts/actions").rglob("*.py"), *(ROOT / "drives/actions").rglob("*.py")]
    vague = [
        f"{file}:{node.lineno}"
        for file in (*files, ROOT / "shared/basics/changes.py")
        for node in ast.walk(ast.parse(file.read_text()))
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr == "save"
        and not {"update_fields", "force_insert"} & {keyword.arg for keyword in node.keywords}
    ]
    assert vague == []


def test_a_write_elsewhere_would_be_found() -> None:
    planted = "def look(row):\n    row.save(update_fields=['name'])\n    storage.save(file)\n"
    assert list(calls(planted, WRITING)) == [(2, "save")]
