"""Some squares coloured, the others open; the coloured ones keep all rules."""

from collections.abc import Iterable, Sequence

from .task import Task

OPEN = -1


class Partial:
    """``colour`` of each square, or OPEN. ``beside``: how many squares speak against each colour.

    ``of``: the squares of each colour. ``units`` and ``squares``: what is left of each colour.
    ``far``: how far each colour is from a square's wish, of those that it may have.
    """

    def __init__(self, task: Task) -> None:
        self.task = task
        squares, colours = range(len(task.places)), range(len(task.room))
        self.colour = [OPEN for _ in squares]
        self.open = dict.fromkeys(squares)  # a set that keeps its order, as do those in ``of``
        self.units = [room.units for room in task.room]
        self.squares = [room.squares for room in task.room]
        self.beside = [[0 for _ in colours] for _ in squares]
        self.of: list[dict[int, None]] = [{} for _ in colours]
        self.far = [_far(may, len(colours)) for may in task.may]

    def copy(self) -> "Partial":
        twin = Partial.__new__(Partial)
        twin.task, twin.far = self.task, self.far
        twin.colour, twin.units, twin.squares = self.colour[:], self.units[:], self.squares[:]
        twin.open, twin.of = dict(self.open), [dict(its) for its in self.of]
        twin.beside = [row[:] for row in self.beside]
        return twin

    def fill(self) -> None:
        """Give as many squares as possible the colour that they want most, then the next …"""
        for rank in range(len(self.task.room)):
            waiting = [(square, self.task.may[square]) for square in self.open]
            self.give_all((square, may[rank]) for square, may in waiting if rank < len(may))

    def give_all(self, wanted: Iterable[tuple[int, int]]) -> None:
        """Give open squares the colours wanted, where that keeps the rules."""
        for square, colour in wanted:
            if not self.beside[square][colour] and self.has_room(square, colour):
                self.give(square, colour)

    def missed(self) -> int:
        """How far all squares, coloured ones, are from their wish."""
        return sum(far[own] for far, own in zip(self.far, self.colour, strict=True))

    def has_room(self, square: int, colour: int) -> bool:
        return self.units[colour] >= self.task.weight[square] and self.squares[colour] > 0

    def give(self, square: int, colour: int) -> None:
        self.colour[square] = colour
        self.of[colour][square] = None
        self.units[colour] -= self.task.weight[square]
        self.squares[colour] -= 1
        for other in self.task.joined[square]:
            self.beside[other][colour] += 1
        self._beside_lots(square, colour, 1)
        del self.open[square]

    def take(self, square: int) -> None:
        colour = self.colour[square]
        self.colour[square] = OPEN
        del self.of[colour][square]
        self.units[colour] += self.task.weight[square]
        self.squares[colour] += 1
        for other in self.task.joined[square]:
            self.beside[other][colour] -= 1
        self._beside_lots(square, colour, -1)
        self.open[square] = None

    def _beside_lots(self, square: int, colour: int, more: int) -> None:
        """Squares beside one dye lot have the others of its colour beside them too."""
        lots = self.task.lots
        if not lots:
            return
        for kin in lots.kin[colour]:
            for other in (*self.task.joined[square], *lots.touch[colour][square]):
                self.beside[other][kin] += more


def _far(may: Sequence[int], colours: int) -> list[int]:
    """Any other colour than the first is far; the later ones are a little farther."""
    far = [0] * colours
    for rank, colour in enumerate(may):
        far[colour] = rank and colours + rank
    return far
