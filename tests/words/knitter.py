"""A knitter who knows only what is written, and works it stitch by stitch.

She reads the sentences of the foundation and of the marker, the list of abbreviations and the
text of each row. What cannot be worked as it is written is a ``Mistake``.
"""

import re
from collections.abc import Iterable, Mapping, Sequence

from tests.craft.needle import Mistake, Needle


class Knitter(Needle):
    """Works what she reads, and looks up what she does not know in the ``glossary``."""

    def __init__(self, total: int, middle: int, *, marked: bool, glossary: Mapping[str, str]):
        super().__init__(total, middle, marked=marked)
        self.glossary = glossary

    def work(self, instruction: str) -> None:
        """Turn, and work one row from its first stitch to its last."""
        before = len(self.stitches)
        self.turn()
        text, _, fewer = instruction.partition(" (")
        for part in text.split(", "):
            self._do(part)
        self.end()
        if fewer and fewer != f"{before - len(self.stitches)} fewer each time)":
            raise Mistake(f"“{instruction}” took {before} to {len(self.stitches)}")

    def _do(self, part: str) -> None:
        if count := re.fullmatch(r"k(\d+)", part):
            self.knit(int(count[1]))
        elif short := re.fullmatch(r"knit to (?:(\d+) before )?the (marker|marked stitch)", part):
            self.knit_to(None if short[2] == "marker" else self.marked, int(short[1] or 0))
        elif part in {"knit", "knit to the end"}:
            self.knit(len(self.ahead))
        elif part == "slip marker":
            self.slip_marker()
        elif part == "remove marker":
            self.remove_marker()
        elif part == "fasten off":
            self.fasten_off()
        elif part in self.glossary:
            # The meaning tells how many stitches go into one: slip 2 …, knit 1, pass … over it.
            numbers = re.findall(r"(?:slip|knit) (\d+)", self.glossary[part])
            self.decrease(sum(map(int, numbers)))
        else:
            raise Mistake(f"what is “{part}”?")


def read_foundation(sentences: Iterable[str]) -> list[int]:
    """The stitches of each step."""
    counts = []
    for sentence in sentences:
        found = re.match(r"(?:Turn\. )?(?:Cast on|Pick up and knit) (\d+) ", sentence)
        if not found:
            raise Mistake(f"not a step: “{sentence}”")
        counts.append(int(found[1]))
        ridges = re.search(r"\(one in each of its (\d+) ridges|ridges (\d+)–(\d+) of", sentence)
        if ridges:
            low, high = (1, ridges[1]) if ridges[1] else (ridges[2], ridges[3])
            corner = "and one in the corner)" in sentence
            if int(high) - int(low) + 1 + corner != counts[-1]:
                raise Mistake(f"the ridges are not as many as the stitches: “{sentence}”")
    return counts


def read_marker(sentence: str, counts: Sequence[int], steps: Sequence[str]) -> int:
    """How many stitches lie before the marker; or, where one is marked, which."""
    if found := re.match(r"The marker goes between step (\d+) and step (\d+)\.", sentence):
        if int(found[2]) != int(found[1]) + 1:
            raise Mistake(sentence)
        return sum(counts[: int(found[1])])
    if found := re.match(r"The marker goes in the middle, after (\d+) stitches\.", sentence):
        return int(found[1])
    if found := re.match(r"The marker goes into step (\d+), after its first (\d*)", sentence):
        return sum(counts[: int(found[1]) - 1]) + int(found[2] or 1)
    if found := re.match(r"Mark stitch (\d+), the middle one\.", sentence):
        return int(found[1])
    if found := re.match(r"Mark stitch (\d+) of step (\d+):", sentence):
        return sum(counts[: int(found[2]) - 1]) + int(found[1])
    if sentence.startswith("Mark the one stitch picked up in the corner"):
        (corner,) = [index for index, step in enumerate(steps) if "in the corner itself" in step]
        return sum(counts[:corner]) + 1
    raise Mistake(f"where is the middle? “{sentence}”")
