"""The page about the trade that code and tests cite: each section that they name is there."""

import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[1]
TRADE = ROOT / "drives" / "craft" / "TRADE.md"
CITED = re.compile(r"TRADE\.md, sections? (\d+)(?: and (\d+))?")


def citations() -> Iterator[tuple[Path, str]]:
    for room in ("drives", "tests"):
        for file in sorted((ROOT / room).rglob("*.py")):
            for found in CITED.finditer(file.read_text(encoding="utf-8")):
                yield from ((file, number) for number in found.groups() if number)


def test_every_section_that_is_cited_can_be_opened() -> None:
    sections = set(re.findall(r"^## (\d+)\.", TRADE.read_text(encoding="utf-8"), re.MULTILINE))
    found = list(citations())
    assert len(found) > 20
    assert [(str(file), number) for file, number in found if number not in sections] == []
