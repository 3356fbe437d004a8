"""Proofs that no colour plan exists, by counting."""

from collections.abc import Iterable
from typing import NamedTuple

from .flow import SINK, SOURCE, Network
from .task import Task, Work

PIPE = 60  # steps that it takes to lay and fill a pipe for one colour of one square
STEPS_OF_ONE = 10  # to ask one square for another partner


class Shortage(NamedTuple):
    """However it is done, at least ``short`` of the ``wanted`` units are left without a colour.

    The ``squares`` with these units can only have the colours named here: those in ``most``, of
    which each can take so many units of them at most because no two neighbours may be alike;
    and those in ``colours``, which together suffice for ``enough_for``.
    """

    short: int
    wanted: int
    squares: list[int]
    colours: list[int]
    enough_for: int
    most: dict[int, int]


class Count:
    """A flow from the squares through their colours to the store.

    Of joined squares that are in a group together a colour may take one, or as much of each as
    makes one: with every plan there is such a flow, so that without a full flow there is no plan.
    With groups from a largest matching of a colour's squares this knows how many squares, no two
    joined, it can take at most (Kőnig).
    """

    def __init__(self, task: Task, work: Work) -> None:
        """Raises Spent."""
        self.task = task
        work.do(PIPE * task.looks)
        self._network = network = Network(work)
        self._squares = [network.node() for _ in task.places]
        self._colours = [network.node() for _ in task.room]
        self._takes: list[dict[int, int]] = [{} for _ in task.places]  # pipes by colour
        self._groups: list[list[list[int]]] = []
        self._enough: list[int] = []
        for square, weight in zip(self._squares, task.weight, strict=True):
            network.pipe(SOURCE, square, weight)
        for colour, room in enumerate(task.room):
            its = [square for square, may in enumerate(task.may) if colour in may]
            heaviest = sorted((task.weight[square] for square in its), reverse=True)
            self._enough.append(min(room.units, sum(heaviest[: max(room.squares, 0)])))
            self._groups.append(groups(task, its, work))
            network.pipe(self._colours[colour], SINK, self._enough[colour])
            for group in self._groups[colour]:
                meet = network.node()
                most = max(task.weight[square] for square in group)
                network.pipe(meet, self._colours[colour], most)
                for square in group:
                    weight = task.weight[square]
                    self._takes[square][colour] = network.pipe(self._squares[square], meet, weight)
        self.missing = sum(task.weight) - network.fill()

    def shortage(self) -> Shortage | None:
        """None where counting finds nothing."""
        if not self.missing:
            return None
        weight, reached = self.task.weight, self._network.reached()
        short = {square for square, node in enumerate(self._squares) if node in reached}
        colours = [colour for colour, node in enumerate(self._colours) if node in reached]
        most = {
            colour: sum(
                min(max(weight[square] for square in group), sum(its))
                for group in of_colour
                if (its := [weight[square] for square in group if square in short])
            )
            for colour, of_colour in enumerate(self._groups)
            if colour not in colours
        }
        return Shortage(
            short=self.missing,
            wanted=sum(weight[square] for square in short),
            squares=sorted(short),
            colours=colours,
            enough_for=sum(self._enough[colour] for colour in colours),
            most={colour: units for colour, units in most.items() if units},
        )

    def sent(self, square: int, colour: int) -> int:
        """How much of a square the flow gives to one of its colours."""
        return self._network.sent(self._takes[square][colour])

    def suggested(self) -> list[tuple[int, int]]:
        """The squares that the flow gives to one colour alone, with that colour."""
        return [
            (square, colour)
            for square, takes in enumerate(self._takes)
            for colour in takes
            if self.sent(square, colour) == self.task.weight[square]
        ]


def groups(task: Task, squares: Iterable[int], work: Work) -> list[list[int]]:
    """``squares`` shared out into groups of one, two or three, those of a group all joined."""
    left = dict.fromkeys(squares)
    found = []
    for square in list(left):
        three = _three(task, square, left) if square in left else None
        if three:
            found.append(three)
            for each in three:
                del left[each]
    mate: dict[int, int] = {}
    for square in left:
        if square not in mate:
            work.do(_pair(task, square, left, mate))
    found += [[square] for square in left if square not in mate]
    found += [[square, other] for square, other in mate.items() if square < other]
    return found


def _three(task: Task, square: int, left: dict[int, None]) -> list[int] | None:
    near = [other for other in task.joined[square] if other in left]
    for one in near:
        for other in near:
            if one < other and other in task.joined[one]:
                return [square, one, other]
    return None


def _pair(task: Task, square: int, left: dict[int, None], mate: dict[int, int]) -> int:
    """Find a partner for ``square``, if need be by new partners for others; answers the steps.

    Where large squares make odd rings it may miss one: the groups are then smaller than need be.
    """
    asked: dict[int, int] = {}  # each square by which other one
    partner: dict[int, int] = {}  # each square that asks, but the first: whom it would leave
    ahead = [square]
    for one in ahead:
        for other in task.joined[one]:
            if other not in left or other in asked or other == square:
                continue
            asked[other] = one
            if other in mate:
                partner[mate[other]] = other
                ahead.append(mate[other])
                continue
            pairs = [(one, other)]
            while pairs[-1][0] != square:
                left_one = partner[pairs[-1][0]]
                pairs.append((asked[left_one], left_one))
            if len({each for pair in pairs for each in pair}) == 2 * len(pairs):
                mate.update(pairs)
                mate.update((second, first) for first, second in pairs)
                break
        else:
            continue
        break
    return STEPS_OF_ONE * len(ahead)
