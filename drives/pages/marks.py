"""What an organiser marks on the grid: places taken out, large squares, seams.

A mark is written ``B2`` (taken out), ``A1×2`` (a large square) or ``A1–B1`` (a seam). ``A–B``
and ``2–3`` are the seams all along between two columns or two rows.
"""

import re
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Self

from django.utils.translation import gettext as _

from drives.craft.layout import Large, Layout, Seam
from drives.craft.places import LIMIT, Place, letters


class Unreadable(ValueError):
    """Something typed in ``field`` is no mark; the text says what, for the organiser."""

    def __init__(self, field: str, detail: str) -> None:
        super().__init__(detail)
        self.field = field


@dataclass(frozen=True)
class Marks:
    """All marks on a grid."""

    missing: frozenset[Place] = frozenset()
    large: frozenset[Large] = frozenset()
    seams: frozenset[Seam] = frozenset()

    @classmethod
    def of(cls, layout: Layout) -> Self:
        return cls(layout.missing, layout.large, layout.seams)

    @classmethod
    def read(cls, texts: Mapping[str, str], grid: tuple[int, int]) -> Self:
        """As typed for a grid of columns and rows; raises Unreadable."""
        try:
            field = "missing"
            missing = missing_in(texts.get(field, ""))
            field = "large"
            large = large_in(texts.get(field, ""))
            field = "seams"
            return cls(missing, large, seams_in(texts.get(field, ""), grid, large))
        except ValueError as wrong:
            raise Unreadable(field, str(wrong)) from wrong

    def toggled(self, word: str) -> Self:
        """With the mark ``word`` made, or taken back; ValueError when it is none."""
        if "×" in word:
            return type(self)(self.missing, self.large ^ large_in(word), self.seams)
        if "–" in word:
            return type(self)(self.missing, self.large, self.seams ^ seams_in(word, (0, 0), ()))
        return type(self)(self.missing ^ missing_in(word), self.large, self.seams)

    def texts(self, grid: tuple[int, int]) -> dict[str, str]:
        """As they are typed on a grid of columns and rows; what is a whole line is told as one."""
        words = []
        rest = set(self.seams)
        for name, seams in _lines(grid, self.large):
            if seams and rest.issuperset(seams):
                rest -= seams
                words.append(name)
        words += [f"{seam.first}–{seam.second}" for seam in sorted(rest)]
        return {
            "missing": " ".join(str(place) for place in sorted(self.missing)),
            "large": " ".join(f"{square.at}×{square.size}" for square in sorted(self.large)),
            "seams": " ".join(words),
        }


def missing_in(text: str) -> frozenset[Place]:
    """Places as typed; ValueError says which word is none."""
    return frozenset(Place.parse(word) for word in _words(text))


def large_in(text: str) -> frozenset[Large]:
    """Large squares as typed; ValueError says which word is none."""
    squares = set()
    for word in _words(text):
        parts = re.fullmatch(r"(\w+?)[×x*:](\d{1,3})", word, re.ASCII)
        if parts is None:
            raise ValueError(
                _("“%(word)s” is not a large square; write A1×2 for one two units wide.")
                % {"word": word[:20]}
            )
        squares.add(Large(Place.parse(parts[1]), int(parts[2])))
    # Every unit of them is visited, so what cannot fit anyhow is refused before.
    if sum(square.size**2 for square in squares) > LIMIT * LIMIT:
        raise ValueError(_("Together the large squares do not fit into the largest blanket."))
    return frozenset(squares)


def seams_in(text: str, grid: tuple[int, int], large: Collection[Large]) -> frozenset[Seam]:
    """Seams as typed for a grid of columns and rows; ValueError says which word is none."""
    lines: Mapping[str, frozenset[Seam]] | None = None
    seams: set[Seam] = set()
    for word in _words(text):
        parts = re.fullmatch(r"(\w+)[-–|](\w+)", word, re.ASCII)
        if parts is None:
            raise ValueError(
                _("“%(word)s” is not a seam; write A1–B1 for the one between A1 and B1.")
                % {"word": word[:20]}
            )
        if parts[1].isalpha() or parts[1].isdigit():
            lines = dict(_lines(grid, large)) if lines is None else lines
            name = f"{parts[1].upper()}–{parts[2].upper()}"
            if name not in lines:
                raise ValueError(
                    _("There is no line between two neighbours called “%(word)s”.")
                    % {"word": word[:20]}
                )
            seams |= lines[name]
        else:
            seams.add(Seam.between(Place.parse(parts[1]), Place.parse(parts[2])))
    return frozenset(seams)


def _lines(grid: tuple[int, int], large: Iterable[Large]) -> Iterator[tuple[str, frozenset[Seam]]]:
    """Every line through the grid with its seams, less those that would cut a large square."""
    columns, rows = (min(side, LIMIT) for side in grid)
    owner = {unit: square.at for square in large for unit in square.units()}

    def clear(seam: Seam) -> bool:
        return seam.first not in owner or owner[seam.first] != owner.get(seam.second)

    for column in range(1, columns):
        line = (Seam(Place(column, row), Place(column + 1, row)) for row in range(1, rows + 1))
        yield f"{letters(column)}–{letters(column + 1)}", frozenset(filter(clear, line))
    for row in range(1, rows):
        line = (
            Seam(Place(column, row), Place(column, row + 1)) for column in range(1, columns + 1)
        )
        yield f"{row}–{row + 1}", frozenset(filter(clear, line))


def _words(text: str) -> list[str]:
    return text.replace(",", " ").replace(";", " ").split()
