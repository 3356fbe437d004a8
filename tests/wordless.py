"""``python -m tests.wordless``: the core and the drawings hold no text for people.

A text is a string with two words side by side, a value that is filled in counting as one; and that
is neither a docstring nor markup, nor where the sources of published rules are kept. What people
are to read is said by ``drives/words/``.
"""

import ast
import re
import sys
from collections.abc import Iterator
from pathlib import Path

ROOMS = (Path("drives/craft"), Path("drives/drawing"))
# Names of those who have published what the core goes by.
SOURCES = (Path("drives/craft/receivers/sources.py"),)
# Values of ``Fibre`` that rows have had since the first version.
CODES = {"bamboo viscose", "other fibres"}

FILLED_IN = "□"
PLACEHOLDER = re.compile(r"%\(\w+\)[a-z]|%[a-z]|\{\w*\}")
# Of SVG: an attribute with its value, unless people hear it; a tag's own signs; a function.
MARKUP = re.compile(
    r"""(?<![\w-])(?!(?:aria-label|title|alt)=)[\w:-]+="[^"]*"|"""
    r"""(?:aria-label|title|alt)=|</?[\w-]+|/?>|\b[a-z]+\("""
)
WORD, ANY = r"(?:\w*[^\W\d_]{2}\w*)", rf"(?:[^\W\d_]|{FILLED_IN})"
TEXT = re.compile(rf"{WORD}\W*?\s\W*?{ANY}|{ANY}\W*?\s\W*?{WORD}")


def texts(code: str) -> Iterator[tuple[int, str]]:
    """The texts for people in ``code``, each with its line."""
    tree = ast.parse(code)
    passed_over: set[ast.AST] = set()
    for node in ast.walk(tree):
        match node:
            case ast.Expr(value=ast.Constant() as docstring):
                passed_over.add(docstring)
            case ast.JoinedStr(values=values):
                passed_over.update(values)  # they are judged together
                for value in values:
                    if isinstance(value, ast.FormattedValue) and value.format_spec:
                        passed_over.add(value.format_spec)
    for node in ast.walk(tree):
        if node not in passed_over and (text := _text(node)) and is_text(text):
            yield node.lineno, text  # type: ignore[attr-defined]


def is_text(text: str) -> bool:
    return TEXT.search(MARKUP.sub("|", PLACEHOLDER.sub(FILLED_IN, text))) is not None


def _text(node: ast.AST) -> str:
    match node:
        case ast.Constant(value=str(text)):
            return text
        case ast.JoinedStr(values=values):
            return "".join(_text(value) or FILLED_IN for value in values)
    return ""


def found() -> Iterator[str]:
    """Every text for people in the rooms that are covered, with its file and line."""
    for room in ROOMS:
        for file in sorted(room.rglob("*.py")):
            for line, text in texts(file.read_text(encoding="utf-8")):
                if file not in SOURCES and text not in CODES:
                    yield f"{file}:{line}: a text for people: {text!r}"


def main() -> int:
    wrong = list(found())
    sys.stdout.writelines(f"{line}\n" for line in wrong)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
