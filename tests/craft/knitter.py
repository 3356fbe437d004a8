"""A knitter who knows only what is written, and works it stitch by stitch.

She reads the sentences of the foundation and of the marker, the list of abbreviations and the
text of each row. Her needle holds stitches that know which stitches of the foundation went into
them. What cannot be worked as it is written is a ``Mistake``.
"""

import re
from collections import deque
from collections.abc import Iterable, Mapping, Sequence

Stitch = frozenset[int]
"""The stitches of the foundation that went into one stitch, numbered in the order of work."""


class Mistake(AssertionError):
    """The instructions cannot be worked as they stand."""


class Knitter:
    """Holds a foundation of ``total`` stitches, ready for row 1 (WS).

    ``middle`` is the number of stitches before the marker, or the number of the marked stitch.
    """

    def __init__(self, total: int, middle: int, *, marked: bool, glossary: Mapping[str, str]):
        self.needle: list[Stitch | None] = [frozenset({n}) for n in range(1, total + 1)]
        self.marked: Stitch | None = frozenset({middle}) if marked else None
        if not marked:
            self.needle.insert(middle, None)  # the marker
        self.glossary = glossary
        self.side = "RS"  # the side that the foundation was worked from
        self.fastened_off = False

    @property
    def stitches(self) -> list[Stitch]:
        return [stitch for stitch in self.needle if stitch is not None]

    def work(self, instruction: str) -> None:
        """Turn, and work one row from its first stitch to its last."""
        self.side = "WS" if self.side == "RS" else "RS"
        before = len(self.stitches)
        self.ahead, self.needle = deque(reversed(self.needle)), []
        text, _, fewer = instruction.partition(" (")
        for part in text.split(", "):
            self._do(part)
        if self.ahead:
            raise Mistake(f"{len(self.ahead)} left unworked by “{instruction}”")
        if fewer and fewer != f"{before - len(self.stitches)} fewer each time)":
            raise Mistake(f"“{instruction}” took {before} to {len(self.stitches)}")

    def _do(self, part: str) -> None:
        if count := re.fullmatch(r"k(\d+)", part):
            self._knit(int(count[1]))
        elif short := re.fullmatch(r"knit to (?:(\d+) before )?the (marker|marked stitch)", part):
            middle = None if short[2] == "marker" else self.marked
            self._knit(list(self.ahead).index(middle) - int(short[1] or 0))
        elif part in {"knit", "knit to the end"}:
            self._knit(len(self.ahead))
        elif part == "slip marker":
            self._take_marker()
            self.needle.append(None)
        elif part == "remove marker":
            self.ahead.remove(None)
        elif part == "fasten off":
            if len(self.needle) != 1 or self.ahead:
                raise Mistake("only a single stitch can be fastened off")
            self.fastened_off = True
        elif part in self.glossary:
            self._decrease(self.glossary[part])
        else:
            raise Mistake(f"what is “{part}”?")

    def _knit(self, count: int) -> None:
        self.needle += [self._next() for _ in range(count)]

    def _decrease(self, meaning: str) -> None:
        """``meaning`` tells how many stitches go into one: slip 2 …, knit 1, pass … over it."""
        count = sum(int(number) for number in re.findall(r"(?:slip|knit) (\d+)", meaning))
        into = [self._next() for _ in range(count)]
        one = frozenset[int]().union(*into)
        if self.marked is not None:
            if into[len(into) // 2] != self.marked:
                raise Mistake("the decrease is not centred on the marked stitch")
            self.marked = one
        self.needle.append(one)

    def _next(self) -> Stitch:
        if not self.ahead:
            raise Mistake("no stitch is left to work")
        stitch = self.ahead.popleft()
        if stitch is None:
            raise Mistake("the marker is in the way")
        return stitch

    def _take_marker(self) -> None:
        if not self.ahead or self.ahead.popleft() is not None:
            raise Mistake("the marker is not here")


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
