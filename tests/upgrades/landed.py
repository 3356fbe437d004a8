"""Migrations that have landed are never edited: a list of them with their checksums.

``python -m tests.upgrades.landed`` fails when one of the list was changed, renamed or taken away,
or when there is one that the list does not know; ``… --add`` adds those that are new. The list
has the form that ``sha256sum -c`` reads.
"""

import sys
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

ROOT = Path(__file__).parents[2]
LIST = Path(__file__).with_name("landed.txt")


def checksums(root: Path) -> dict[str, str]:
    """Of every migration below ``root``, by its path from there."""
    files = sorted(root.glob("*/migrations/[0-9]*.py"))
    return {str(file.relative_to(root)): sha256(file.read_bytes()).hexdigest() for file in files}


def read(listed: Path) -> dict[str, str]:
    lines = listed.read_text().splitlines() if listed.exists() else []
    return {path: checksum for checksum, path in map(str.split, lines)}


def complaints(root: Path, listed: Path) -> Iterator[str]:
    """In a sentence each, what was done to migrations that nobody may do any more."""
    there = checksums(root)
    for path, checksum in read(listed).items():
        if path not in there:
            yield f"{path} has landed and is gone: databases know it by its name. Bring it back."
        elif there[path] != checksum:
            yield (
                f"{path} has landed and was changed: databases that know it would never notice. "
                "Take the change back and write a new migration."
            )


def new(root: Path, listed: Path) -> dict[str, str]:
    """Migrations that are not in the list yet, with their checksums."""
    known = read(listed)
    return {path: checksum for path, checksum in checksums(root).items() if path not in known}


def main(arguments: list[str], root: Path = ROOT, listed: Path = LIST) -> int:
    wrong = list(complaints(root, listed))
    added = new(root, listed)
    if arguments == ["--add"]:
        known = read(listed) | added
        listed.write_text("".join(f"{known[path]}  {path}\n" for path in sorted(known)))
    else:
        wrong += [f"{path} is not in the list yet: ./dev landed adds it." for path in added]
    for sentence in wrong:
        print(sentence, file=sys.stderr)  # noqa: T201
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
