"""Colours what is open: by exchanging what stands in the way, where need be by force.

An open square is given a colour by a chain of exchanges where there is one: each square of the
chain takes the colour of the next, the last one a colour with room. Where there is none, it takes
a colour by force, and the squares in its way become open: a tabu search on partial colourings, as
I. Blöchliger and N. Zufferey describe it (Computers & Operations Research 35, 2008) for graphs
without stores.
"""

from random import Random

from .partial import OPEN, Partial
from .task import Effort, Work

STEPS_TO_ORDER = 5  # of one square among those of its colour
EASY = 10  # steps that take as long as to look at every colour of every square


class Search:
    """Luck comes from ``seed``: the same partial colouring goes the same way."""

    def __init__(self, partial: Partial, seed: int = 1) -> None:
        self.partial = partial
        self._random = Random(seed)  # noqa: S311 - chance, not secrecy
        self._step = 0
        self._barred: dict[tuple[int, int], int] = {}  # square and colour, until a step

    def run(self, steps: int, effort: Effort) -> bool:
        """Whether all squares have a colour after at most so many more ``steps``. Raises Spent."""
        for _ in range(steps):
            waiting = list(self.partial.open)
            if not waiting or not effort.spend(self.partial.task.looks // EASY):
                break
            exchanged = [self._exchange(square, effort.work) for square in waiting]
            if not any(exchanged):
                self._force(self._random.choice(waiting), effort.work)
            self._step += 1
        return not self.partial.open

    def _exchange(self, square: int, work: Work) -> bool:
        """Colour an open square by a shortest chain of exchanges; False when there is none.

        All squares of a chain end in different colours, and each colour of it is left before it is
        taken, so that no two of them come into each other's way.
        """
        partial, may = self.partial, self.partial.task.may
        taker: dict[int, int] = {}  # of each colour reached: the square that would take it
        ahead = [square]
        while ahead:
            work.do(len(ahead) * len(self.partial.units))
            reached: dict[int, tuple[int, int]] = {}  # with how much further from its wish
            for mover in ahead:
                beside, worn, far = partial.beside[mover], partial.colour[mover], partial.far[mover]
                if worn != OPEN and not self._leaves_enough(mover, taker[worn]):
                    continue
                for colour in may[mover]:
                    if colour in taker or beside[colour] or self._meets(mover, colour, taker):
                        continue
                    loss = far[colour] if worn == OPEN else far[colour] - far[worn]
                    if colour not in reached or loss < reached[colour][0]:
                        reached[colour] = (loss, mover)
            for colour, (_, mover) in reached.items():
                taker[colour] = mover
                if partial.has_room(mover, colour):
                    self._shift(taker, colour)
                    return True
            ahead = [mover for colour in reached for mover in partial.of[colour]]
        return False

    def _meets(self, mover: int, colour: int, taker: dict[int, int]) -> bool:
        """Whether another lot of ``colour`` may come beside it by the same chain.

        A square that goes from one lot to the next does not, unless it touches who takes its own.
        """
        lots = self.partial.task.lots
        reached = [kin for kin in lots.kin[colour] if kin in taker] if lots else []
        if not lots or not reached:
            return False
        worn = self.partial.colour[mover]
        return reached != [worn] or taker[worn] in lots.touch[colour][mover]

    def _leaves_enough(self, mover: int, taker: int) -> bool:
        """Whether ``taker`` can have the colour of ``mover`` as soon as that one has another."""
        weight = self.partial.task.weight
        return self.partial.units[self.partial.colour[mover]] + weight[mover] >= weight[taker]

    def _shift(self, taker: dict[int, int], colour: int) -> None:
        while colour != OPEN:
            mover = taker[colour]
            leaves = self.partial.colour[mover]
            if leaves != OPEN:
                self.partial.take(mover)
            self.partial.give(mover, colour)
            colour = leaves

    def _force(self, square: int, work: Work) -> None:
        """Give ``square`` the colour for which the least must be opened again."""
        work.do(STEPS_TO_ORDER * len(self.partial.task.places))
        weight = self.partial.task.weight
        best: list[tuple[int, list[int]]] = []
        least = sum(weight) + 1
        for colour in self.partial.task.may[square]:
            opened = self._in_the_way(square, colour)
            if opened is None or self._barred.get((square, colour), 0) > self._step:
                continue
            lost = sum(weight[other] for other in opened)
            if lost < least:
                least, best = lost, []
            if lost == least:
                best.append((colour, opened))
        if best:
            self._give_for(square, *self._random.choice(best))

    def force(self, square: int, colour: int) -> None:
        """Give a coloured square another colour, whatever must be opened for it."""
        self.partial.take(square)
        opened = self._in_the_way(square, colour)
        if opened is not None:
            self._give_for(square, colour, opened)

    def _give_for(self, square: int, colour: int, opened: list[int]) -> None:
        for other in opened:
            self.partial.take(other)
            bar = self._random.randint(3, 10) + len(self.partial.open)
            self._barred[other, colour] = self._step + bar
        self.partial.give(square, colour)

    def _in_the_way(self, square: int, colour: int) -> list[int] | None:
        """What must be opened so that ``square`` can have ``colour``; None when nothing helps."""
        partial, weight = self.partial, self.partial.task.weight
        found = self._against(square, colour)
        alike = [other for other in found if partial.colour[other] == colour]
        others = [other for other in partial.of[colour] if other not in found]
        self._random.shuffle(others)
        units = partial.units[colour] + sum(weight[other] for other in alike)
        squares = partial.squares[colour] + len(alike)
        while units < weight[square] or squares < 1:
            if not others:
                return None
            found.append(others.pop())
            units += weight[found[-1]]
            squares += 1
        return found

    def _against(self, square: int, colour: int) -> list[int]:
        """The coloured squares beside which it cannot have the colour."""
        worn, joined, lots = (
            self.partial.colour,
            self.partial.task.joined[square],
            self.partial.task.lots,
        )
        if not lots:
            return [other for other in joined if worn[other] == colour]
        alike = (colour, *lots.kin[colour])
        found = [other for other in joined if worn[other] in alike]
        return list(dict.fromkeys((*found, *lots.clashes(worn, square, colour))))
