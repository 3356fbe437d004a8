"""What is left to colour, as flat lists: the working behind a colour plan."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from drives.craft.layout.plan import Plan
from drives.craft.places import Place

from .neighbours import neighbours
from .patterns import PATTERNED, preferences
from .wish import Wish

MOST_STEPS = 30_000_000


class Room(NamedTuple):
    """What is left of one colour: units of yarn, and squares that it may still be used for."""

    units: int
    squares: int


@dataclass(frozen=True, eq=False)
class TaskLots:
    """Colours that are dye lots. ``kin``: of each colour, the other lots of its own.

    ``touch``: by colour, the squares that must not have its ``kin`` beside each that has it.
    """

    kin: list[tuple[int, ...]]
    touch: list[list[list[int]]]

    def clashes(self, colours: Sequence[int], square: int, colour: int) -> list[int]:
        """The squares, ``colours`` by number, that have what ``square`` must not touch in it."""
        kin = self.kin[colour]
        return [other for other in self.touch[colour][square] if colours[other] in kin]

    def rest(self, left: Sequence[int], number: Mapping[int, int]) -> "TaskLots":
        """Of the squares that are ``left``, by their new ``number``."""
        touch = [
            [[number[other] for other in of[square] if other in number] for square in left]
            if of
            else []
            for of in self.touch
        ]
        return TaskLots(self.kin, touch)


@dataclass(frozen=True, eq=False)
class Task:
    """Squares and colours by number. ``places`` and the lists beside it are of one length.

    ``weight``: each square's units. ``joined``: the squares that must differ from each, whatever
    holds them together. ``may``:
    the colours open to each, the most wanted first. ``target``: the colour that the former plan or
    else the pattern gives to each, or None. ``room``: by colour. ``lots``: where some of the
    colours are dye lots of one.
    """

    places: Sequence[Place]
    weight: list[int]
    joined: list[list[int]]
    may: list[tuple[int, ...]]
    target: list[int | None]
    room: list[Room]
    lots: TaskLots | None = None

    @property
    def looks(self) -> int:
        """What it costs to look at every colour of every square once."""
        return 1 + len(self.places) * len(self.room)


class Spent(Exception):
    """The effort did not suffice to find a plan, nor to know that there is none."""


class Work:
    """What all the steps of an answer may cost together, some tenth of a microsecond each.

    Blankets as people knit them need a small part of it. It bounds the time that the largest take,
    whatever is wanted, and is no clock: the same question ends at the same step.
    """

    def __init__(self, steps: int = MOST_STEPS) -> None:
        self.left = steps

    def do(self, steps: int) -> None:
        """Raises Spent when there are not so many left."""
        self.left -= steps
        if self.left < 0:
            raise Spent


class Effort:
    """What may still be spent on one search, in looks at one colour of one square."""

    def __init__(self, looks: int, work: Work) -> None:
        self.left = looks
        self.work = work

    def spend(self, looks: int) -> bool:
        """False, for good, when there is not so much left."""
        self.left -= looks
        return self.left >= 0


def task(plan: Plan, wish: Wish) -> Task:
    """The squares that are not kept, in the recommended order, and what may be done with them."""
    names = list(wish.colours)
    places = [place for place in plan.places if place not in wish.kept]
    number = {place: square for square, place in enumerate(places)}
    weight = [plan.size[place] ** 2 for place in places]
    used = Counter(wish.kept.values())
    room = [
        Room(
            sum(weight) if units is None else units,
            len(places) if name not in wish.at_most else wish.at_most[name] - used[name],
        )
        for name, units in wish.colours.items()
    ]
    wanted = preferences(plan, places, wish, [units for units, _ in room])
    near = neighbours(plan, wish)
    joined: list[list[int]] = []
    may = []
    for place, own, order in zip(places, weight, wanted, strict=True):
        beside = near[place]
        joined.append([number[other] for other in beside if other in number])
        taken = {wish.kept[other] for other in beside if other in wish.kept}
        may.append(
            tuple(
                colour
                for colour in order
                if not 0 < room[colour].units < own  # what has none at all is told as short
                and names[colour] not in taken
                and (place not in wish.allowed or names[colour] in wish.allowed[place])
            )
        )
    target = [
        order[0] if order and (wish.pattern in PATTERNED or place in wish.near) else None
        for place, order in zip(places, wanted, strict=True)
    ]
    return Task(places, weight, joined, may, target, room)
