"""Cuts into panels that have as much to knit each, where there are too many to try them all."""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from itertools import accumulate, pairwise

from .cloth import Cloth
from .cuts import Along, Cut


def even_cuts(cloth: Cloth, most: int) -> Iterator[Cut]:
    """For 2 to ``most`` panels: those with the least in the fullest panel, or the least to sew.

    Each in any number of strips along either way, as evenly as straight lines can; also bent where
    something begun is in the way of a line.
    """
    sums = _Sums(cloth)
    for parts in range(2, most + 1):
        found = [
            (sums.fullest(cut), sums.length(cut), cut)
            for along in Along
            for strips in range(1, parts + 1)
            if (cut := _even_cut(sums, along, strips, parts)) is not None
        ]
        least = None
        for _full, length, cut in sorted(found, key=lambda each: (*each[:2], each[2].simple)):
            if least is None or length < least:
                least = length
                yield cut
                yield from _bent(cloth, cut)


def even_lines(before: Sequence[int], shares: Sequence[int]) -> tuple[int, ...] | None:
    """The lines that divide what lies ``before`` each line by ``shares``, as nearly as they can.

    None where there are not enough lines. Of two that are as near it is the first.
    """
    lines: list[int] = []
    reached, whole = 0, sum(shares)
    for share in shares[:-1]:
        reached += share
        wanted = before[-1] * reached / whole
        first, last = lines[-1] + 1 if lines else 1, len(before) - 2
        if first > last:
            return None
        beyond = min(bisect_left(before, wanted, first), last)
        near = max(first, beyond - 1)
        lines.append(min((near, beyond), key=lambda line: abs(before[line] - wanted)))
    return tuple(lines)


def _bent(cloth: Cloth, cut: Cut) -> Iterator[Cut]:
    """The same with every line turned aside where it is blocked: to the one side, to the other."""
    blocked = [cloth.blocked.get((cut.along, line), 0) for line in cut.lines]
    if not any(blocked):
        return
    for after in (0, 1):
        across = [set(lines) for lines in cut.across]
        for strip, unit in enumerate(blocked):
            if unit:
                across[strip + after].add(unit)
        yield cut._replace(across=tuple(tuple(sorted(lines)) for lines in across))


def _even_cut(sums: "_Sums", along: Along, strips: int, parts: int) -> Cut | None:
    counts = [parts // strips + (number < parts % strips) for number in range(strips)]
    lines = even_lines(sums.before(along, 0, sums.units[along.other]), counts)
    if lines is None:
        return None
    across = []
    for (low, high), count in zip(pairwise([0, *lines, sums.units[along]]), counts, strict=True):
        found = even_lines(sums.before(along.other, low, high), [1] * count)
        if found is None:
            return None
        across.append(found)
    return Cut(along, lines, tuple(across))


class _Sums:
    """What is left to knit in any rectangle (a summed-area table); ``units`` along each way."""

    def __init__(self, cloth: Cloth) -> None:
        self.units = {Along.COLUMNS: cloth.columns, Along.ROWS: cloth.rows}
        self._table = [[0] * (cloth.rows + 1)]
        for column in range(1, cloth.columns + 1):
            left = accumulate(cloth.left_at(column, row) for row in range(1, cloth.rows + 1))
            before = self._table[-1]
            self._table.append([0, *map(sum, zip(left, before[1:], strict=True))])

    def before(self, along: Along, low: int, high: int) -> list[int]:
        """Left before each line along one way, beside the units after ``low`` up to ``high``."""
        if along is Along.COLUMNS:
            return [each[high] - each[low] for each in self._table]
        return [b - a for a, b in zip(self._table[low], self._table[high], strict=True)]

    def fullest(self, cut: Cut) -> int:
        """Left to knit in the fullest of its panels."""
        most = 0
        strips = pairwise([0, *cut.lines, self.units[cut.along]])
        for (low, high), lines in zip(strips, cut.across, strict=True):
            before = self.before(cut.along.other, low, high)
            ends = [0, *lines, len(before) - 1]
            most = max(most, *(before[end] - before[start] for start, end in pairwise(ends)))
        return most

    def length(self, cut: Cut) -> int:
        """Units to cut."""
        stretches = cut.stretches(self.units[Along.COLUMNS], self.units[Along.ROWS])
        return sum(stretch.to - stretch.after for stretch in stretches)
