"""What an organiser marks on the grid: places taken out, large squares, seams.

A mark is written ``B2`` (taken out), ``A1×2`` (a large square) or ``A1–B1`` (a seam). ``A–B``
and ``2–3`` are the seams all along between two columns or two rows, ``A–B:2–5`` and ``2–3:A–C``
those beside the rows 2 to 5 or the columns A to C alone.
"""

import re
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Self

from django.utils.translation import gettext as _

from drives.craft.layout.layout import Large, Layout, Seam
from drives.craft.places import LIMIT, Place, letters
from drives.words.places import place_named

SHORTEST_RUN = 3  # seams that are told as one


class UnreadableNotation(ValueError):
    """Something typed in ``field`` is no mark; the text says what, for the organiser."""

    def __init__(self, field: str, detail: str) -> None:
        super().__init__(detail)
        self.field = field


@dataclass(frozen=True)
class Notation:
    """All marks on a grid."""

    missing: frozenset[Place] = frozenset()
    large: frozenset[Large] = frozenset()
    seams: frozenset[Seam] = frozenset()

    @classmethod
    def of(cls, layout: Layout) -> Self:
        return cls(layout.missing, layout.large, layout.seams)

    @classmethod
    def read(cls, texts: Mapping[str, str], grid: tuple[int, int]) -> Self:
        """As typed for a grid of columns and rows; raises UnreadableNotation."""
        try:
            field = "missing"
            missing = missing_in(texts.get(field, ""))
            field = "large"
            large = large_in(texts.get(field, ""))
            field = "seams"
            return cls(missing, large, seams_in(texts.get(field, ""), grid, large))
        except ValueError as wrong:
            raise UnreadableNotation(field, str(wrong)) from wrong

    def toggled(self, word: str) -> Self:
        """With the mark ``word`` made, or taken back; ValueError when it is none."""
        if "×" in word:
            return type(self)(self.missing, self.large ^ large_in(word), self.seams)
        if "–" in word:
            return type(self)(self.missing, self.large, self.seams ^ seams_in(word, (0, 0), ()))
        return type(self)(self.missing ^ missing_in(word), self.large, self.seams)

    def texts(self, grid: tuple[int, int]) -> dict[str, str]:
        """As they are typed on a grid of columns and rows; a line, and a long part, as one word."""
        words = []
        rest = set(self.seams)
        owner = _owners(self.large)
        touched = {_line_of(seam) for seam in rest}
        for name, line in _lines(grid).items():
            seams = _along(line, grid, owner) if line in touched else frozenset()
            if seams and rest.issuperset(seams):
                rest -= seams
                words.append(name)
                continue
            for run in _runs(rest & seams):
                rest -= set(run)
                words.append(_run_named(name, run))
        words += [f"{seam.first}–{seam.second}" for seam in sorted(rest)]
        return {
            "missing": " ".join(str(place) for place in sorted(self.missing)),
            "large": " ".join(f"{square.at}×{square.size}" for square in sorted(self.large)),
            "seams": " ".join(words),
        }


def missing_in(text: str) -> frozenset[Place]:
    """Places as typed; ValueError says which word is none."""
    return frozenset(place_named(word) for word in _words(text))


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
        squares.add(Large(place_named(parts[1]), int(parts[2])))
    # Every unit of them is visited, so what cannot fit anyhow is refused before.
    if sum(square.size**2 for square in squares) > LIMIT * LIMIT:
        raise ValueError(_("Together the large squares do not fit into the largest blanket."))
    return frozenset(squares)


def seams_in(text: str, grid: tuple[int, int], large: Collection[Large]) -> frozenset[Seam]:
    """Seams as typed for a grid of columns and rows; ValueError says which word is none."""
    lines, owner = _lines(grid), _owners(large)
    seams: set[Seam] = set()
    for word in dict.fromkeys(_words(text)):
        parts = re.fullmatch(r"(\w+)[-–|](\w+)(?::(\w+)[-–](\w+))?", word, re.ASCII)
        if parts is None:
            raise ValueError(
                _("“%(word)s” is not a seam; write A1–B1 for the one between A1 and B1.")
                % {"word": word[:20]}
            )
        if parts[1].isalpha() or parts[1].isdigit():
            name = f"{parts[1].upper()}–{parts[2].upper()}"
            if name not in lines:
                raise ValueError(
                    _("There is no line between two neighbours called “%(word)s”.")
                    % {"word": word[:20]}
                )
            line = _along(lines[name], grid, owner)
            ends = (parts[3], parts[4])
            seams |= _within(lines[name], line, ends, word) if parts[3] else line
        elif parts[3]:
            raise _no_part(word)
        else:
            seams.add(Seam.between(place_named(parts[1]), place_named(parts[2])))
    return frozenset(seams)


CutLine = tuple[str, int]  # "|" between this column and the next, or "–" between two rows


def _lines(grid: tuple[int, int]) -> dict[str, CutLine]:
    """Every line through the grid by its name."""
    columns, rows = (min(side, LIMIT) for side in grid)
    upright = {f"{letters(each)}–{letters(each + 1)}": ("|", each) for each in range(1, columns)}
    return upright | {f"{each}–{each + 1}": ("–", each) for each in range(1, rows)}


def _line_of(seam: Seam) -> CutLine:
    upright = seam.first.row == seam.second.row
    return ("|", seam.first.column) if upright else ("–", seam.first.row)


def _runs(seams: Collection[Seam]) -> Iterator[list[Seam]]:
    """Seams of one line that follow each other, where they are shorter to tell as one."""
    run: list[Seam] = []
    for seam in [*sorted(seams), None]:
        if run and (seam is None or sum(seam.first) - sum(run[-1].first) > 1):
            if len(run) >= SHORTEST_RUN:
                yield run
            run = []
        if seam is not None:
            run.append(seam)


def _beside(seam: Seam) -> int:
    """The row beside an upright seam, the column beside one that is level."""
    return seam.first.row if _line_of(seam)[0] == "|" else seam.first.column


def _run_named(name: str, run: Sequence[Seam]) -> str:
    ends = [_beside(run[0]), _beside(run[-1])]
    first, last = map(str if name[0].isalpha() else letters, ends)
    return f"{name}:{first}–{last}"


def _within(line: CutLine, seams: Iterable[Seam], ends: Sequence[str], word: str) -> set[Seam]:
    """Those of a line from one row (column) to another; ValueError where it has no such."""
    try:
        if line[0] == "|":
            low, high = sorted(Place.parse(f"A{end}").row for end in ends)
        else:
            low, high = sorted(Place.parse(f"{end}1").column for end in ends)
    except ValueError:
        raise _no_part(word) from None
    found = {seam for seam in seams if low <= _beside(seam) <= high}
    if not found:
        raise _no_part(word)
    return found


def _no_part(word: str) -> ValueError:
    return ValueError(
        _("“%(word)s” is no part of a line; write A–B:2–5 for that between A and B in rows 2 to 5.")
        % {"word": word[:20]}
    )


def _owners(large: Iterable[Large]) -> dict[Place, Place]:
    return {unit: square.at for square in large for unit in square.units()}


def _along(line: CutLine, grid: tuple[int, int], owner: Mapping[Place, Place]) -> frozenset[Seam]:
    """The seams of a line, less those that would cut a large square."""
    way, number = line
    columns, rows = (min(side, LIMIT) for side in grid)
    if way == "|":
        pairs = [(Place(number, row), Place(number + 1, row)) for row in range(1, rows + 1)]
    else:
        pairs = [
            (Place(column, number), Place(column, number + 1)) for column in range(1, columns + 1)
        ]
    return frozenset(
        Seam(one, other)
        for one, other in pairs
        if one not in owner or owner[one] != owner.get(other)
    )


def _words(text: str) -> list[str]:
    return text.replace(",", " ").replace(";", " ").split()
