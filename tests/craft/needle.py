"""A needle whose stitches know which stitches of the foundation went into them.

It is worked by the core's moves; what cannot be worked is a ``Mistake``.
"""

from collections import deque
from collections.abc import Iterable

from drives.craft.layout.rows import NeedleMove, RowPart

Stitch = frozenset[int]
"""The stitches of the foundation that went into one stitch, numbered in the order of work."""

INTO_ONE = {NeedleMove.K2TOG: 2, NeedleMove.SSK: 2, NeedleMove.CDD: 3}


class Mistake(AssertionError):
    """The instructions cannot be worked as they stand."""


class Needle:
    """Holds a foundation of ``total`` stitches, ready for row 1 (WS).

    ``middle`` is the number of stitches before the marker, or the number of the marked stitch.
    """

    def __init__(self, total: int, middle: int, *, marked: bool):
        self.needle: list[Stitch | None] = [frozenset({n}) for n in range(1, total + 1)]
        self.marked: Stitch | None = frozenset({middle}) if marked else None
        if not marked:
            self.needle.insert(middle, None)  # the marker
        self.ahead: deque[Stitch | None] = deque()
        self.side = "RS"  # the side that the foundation was worked from
        self.fastened_off = False

    @property
    def stitches(self) -> list[Stitch]:
        return [stitch for stitch in self.needle if stitch is not None]

    def work_parts(self, parts: Iterable[RowPart]) -> None:
        """Turn, and work one row from its first stitch to its last."""
        self.turn()
        for move, count in parts:
            self._move(move, count)
        self.end()

    def _move(self, move: NeedleMove, count: int) -> None:
        match move:
            case NeedleMove.KNIT:
                self.knit(count)
            case NeedleMove.KNIT_ALL | NeedleMove.KNIT_TO_END:
                self.knit(len(self.ahead))
            case NeedleMove.KNIT_TO_MARKER:
                self.knit_to(None, count)
            case NeedleMove.KNIT_TO_MARKED:
                self.knit_to(self.marked, count)
            case NeedleMove.K2TOG | NeedleMove.SSK | NeedleMove.CDD:
                self.decrease(INTO_ONE[move])
            case NeedleMove.SLIP_MARKER:
                self.slip_marker()
            case NeedleMove.REMOVE_MARKER:
                self.remove_marker()
            case NeedleMove.FASTEN_OFF:
                self.fasten_off()

    def turn(self) -> None:
        self.side = "WS" if self.side == "RS" else "RS"
        self.ahead, self.needle = deque(reversed(self.needle)), []

    def end(self) -> None:
        if self.ahead:
            raise Mistake(f"{len(self.ahead)} left unworked")

    def knit(self, count: int) -> None:
        self.needle += [self._next() for _ in range(count)]

    def knit_to(self, middle: Stitch | None, before: int) -> None:
        self.knit(list(self.ahead).index(middle) - before)

    def decrease(self, count: int) -> None:
        into = [self._next() for _ in range(count)]
        one = frozenset[int]().union(*into)
        if self.marked is not None:
            if into[len(into) // 2] != self.marked:
                raise Mistake("the decrease is not centred on the marked stitch")
            self.marked = one
        self.needle.append(one)

    def slip_marker(self) -> None:
        if not self.ahead or self.ahead.popleft() is not None:
            raise Mistake("the marker is not here")
        self.needle.append(None)

    def remove_marker(self) -> None:
        self.ahead.remove(None)

    def fasten_off(self) -> None:
        if len(self.needle) != 1 or self.ahead:
            raise Mistake("only a single stitch can be fastened off")
        self.fastened_off = True

    def _next(self) -> Stitch:
        if not self.ahead:
            raise Mistake("no stitch is left to work")
        stitch = self.ahead.popleft()
        if stitch is None:
            raise Mistake("the marker is in the way")
        return stitch
