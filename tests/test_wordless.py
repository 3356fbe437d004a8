"""The core and the drawings hold no text for people; the check for it sees one that is planted."""

import pytest

from tests.wordless import found, texts


def test_the_core_and_the_drawings_are_wordless() -> None:
    assert list(found()) == []


@pytest.mark.parametrize(
    "code",
    [
        'detail = "Cast on."',
        'detail = "Mark a stitch."',
        'detail = "{place} overlaps"',
        'detail = f"cast on {count}"',
        'detail = f"{count} stitches"',
        'detail = "%(count)d stitches"',
        'detail = ", knit to the end"',
        'return f"{one} and {other} are joined."',
        'raise ValueError("no such place")',
        'LABELS = {"late": "its day has passed"}',
        """svg = f'<text x="{x}">not finished {y}</text>'""",
        """svg = f'<a href="/" aria-label="Square {place}">'""",
        """svg = f'<path d="M0 0" {"not finished" if late else ""}/>'""",
        'def chosen(word="not finished"): ...',
    ],
)
def test_a_text_for_people_is_found_with_its_line(code: str) -> None:
    if code.startswith("return"):
        code = f"def told(): {code}"
    assert [line for line, _ in texts(f'"""What it is."""\n\n{code}\n')] == [3]


@pytest.mark.parametrize(
    "code",
    [
        'def told():\n    """A docstring of many words."""',
        'X = 1\n"""What X is."""',
        "X = 1  # a comment of many words",
        'code = "kept-too-many"',
        'where = f"{x} {y}"',
        'moved = f"translate({x} {y}) rotate(90)"',
        'path = f"M{x} {y}l13 22h-26z"',
        """svg = f'<g class="map wide" aria-labelledby="{a}-title {a}-desc"><path d="M0 0"/>'""",
        """svg = f'<text x="{x}" font-family="A Serif, sans-serif">{name}</text></g>'""",
        """more = ' stroke-width="2" class="missing seam"'""",
        'told = f"{place}: {count}"',
        """svg = f'<a {look} href="{href}"{more} aria-label="{escape(label)}">{target}</a>'""",
    ],
)
def test_codes_markup_and_what_programmers_read_is_none(code: str) -> None:
    assert list(texts(code)) == []
