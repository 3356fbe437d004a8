"""Looks through all plans, leaving out what counting tells to be impossible."""

from typing import NamedTuple

from .count import Count
from .partial import OPEN, Partial
from .search import Search
from .task import Effort, Room, Spent, Task

SHORT = 20  # cases before the first new start


class _Again(Exception):
    """So many cases were looked at: time for a new start."""


class _Stuck(Exception):
    """A square has no colour left."""

    def __init__(self, square: int) -> None:
        self.square = square


class _Case(NamedTuple):
    """Some squares with a colour, and what is left for the others. ``may``: colours as bits."""

    colour: list[int]
    may: list[int]
    units: list[int]
    squares: list[int]

    def with_one(self, task: Task, square: int, colour: int) -> "_Case":
        """The case with one more square coloured, and with all that follow from it."""
        case = _Case(*(part[:] for part in self))
        case.may[square] = 1 << colour
        ahead = [square]
        while ahead:
            square = ahead.pop()
            bit = case.may[square]
            colour = bit.bit_length() - 1
            case.colour[square] = colour
            case.units[colour] -= task.weight[square]
            case.squares[colour] -= 1
            if case.units[colour] < 0 or case.squares[colour] < 0:
                raise _Stuck(square)
            room = case.units[colour] if case.squares[colour] else 0
            lose = [(other, bit) for other in task.joined[square]]
            if room < max(task.weight):
                lose += [(other, bit) for other, own in enumerate(task.weight) if own > room]
            if task.lots:
                kin = sum(1 << other for other in task.lots.kin[colour])
                beside = (*task.joined[square], *task.lots.touch[colour][square]) if kin else ()
                lose += [(other, kin) for other in beside]
            for other, bits in lose:
                if case.colour[other] != OPEN or not case.may[other] & bits:
                    continue
                case.may[other] &= ~bits
                if not case.may[other]:
                    raise _Stuck(other)
                if case.may[other].bit_count() == 1:
                    ahead.append(other)
        return case

    def rest(self, task: Task) -> tuple[list[int], Task]:
        """The squares that are left, and what is to be done with them."""
        left = [square for square, colour in enumerate(self.colour) if colour == OPEN]
        number = {square: new for new, square in enumerate(left)}
        return left, Task(
            places=[task.places[square] for square in left],
            weight=[task.weight[square] for square in left],
            joined=[
                [number[other] for other in task.joined[square] if other in number]
                for square in left
            ],
            may=[
                tuple(colour for colour in task.may[square] if self.may[square] >> colour & 1)
                for square in left
            ],
            target=[task.target[square] for square in left],
            room=[Room(*room) for room in zip(self.units, self.squares, strict=True)],
            lots=task.lots and task.lots.rest(left, number),
        )


class Descent:
    """Depth first, again and again, twice as far each time, with what was learnt before.

    Next comes the square with the fewest colours for the times that it was stuck (F. Boussemart
    and others, Boosting Systematic Search by Weighting Constraints, ECAI 2004); large ones first.
    ``dive``: steps of a search from what counting suggests, for each case.
    """

    def __init__(self, task: Task, effort: Effort, dive: int = 10) -> None:
        self.task = task
        self._dive_steps = dive
        self._effort = effort
        self._stuck = [1] * len(task.places)
        self._seed = 0

    def colours(self) -> list[int] | None:
        """A colour for every square, or None when there is no plan. Raises Spent."""
        cases = SHORT
        while True:
            try:
                return self._descend(cases)
            except _Again:
                cases *= 2

    def _descend(self, cases: int) -> list[int] | None:
        task = self.task
        case = _Case(
            colour=[OPEN] * len(task.places),
            may=[sum(1 << colour for colour in may) for may in task.may],
            units=[room.units for room in task.room],
            squares=[room.squares for room in task.room],
        )
        ahead: list[tuple[_Case, int, int]] = []
        for _ in range(cases):
            left, rest = case.rest(task)
            if not self._effort.spend(rest.looks):
                raise Spent
            count = Count(rest, self._effort.work)
            if not count.missing:
                found = self._dive(count)
                if found is not None:
                    for square, colour in zip(left, found, strict=True):
                        case.colour[square] = colour
                    return case.colour
                ahead += [(case, *choice) for choice in self._choices(case, left, count)]
            following = self._next(ahead)
            if following is None:
                return None
            case = following
        raise _Again

    def _dive(self, count: Count) -> list[int] | None:
        """Try what counting suggests, with a little searching from there."""
        partial = Partial(count.task)
        partial.give_all(count.suggested())
        self._seed += 1
        return (
            partial.colour
            if Search(partial, self._seed).run(self._dive_steps, self._effort)
            else None
        )

    def _choices(self, case: _Case, left: list[int], count: Count) -> list[tuple[int, int]]:
        """The colours of the next square, the most promising last."""

        def ease(square: int) -> float:
            return case.may[square].bit_count() / self._stuck[square] / self.task.weight[square]

        square = min(left, key=ease)
        new = left.index(square)
        colours = sorted(
            count.task.may[new], key=lambda colour: (count.sent(new, colour), case.units[colour])
        )
        return [(square, colour) for colour in colours]

    def _next(self, ahead: list[tuple[_Case, int, int]]) -> _Case | None:
        while ahead:
            parent, square, colour = ahead.pop()
            self._effort.work.do(len(self.task.places))
            try:
                return parent.with_one(self.task, square, colour)
            except _Stuck as where:
                self._stuck[where.square] += 1
        return None
