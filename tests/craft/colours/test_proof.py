"""Proofs, counts and exchanges against every way to colour a few squares."""

from collections.abc import Iterator
from itertools import product
from random import Random

import pytest

from drives.craft.colours.count import Count
from drives.craft.colours.nearer import nearer
from drives.craft.colours.partial import Partial
from drives.craft.colours.proof import Descent
from drives.craft.colours.task import Effort, Room, Task, Work
from drives.craft.places import Place

COLOURS = 3


def some_task(random: Random) -> Task:
    """Up to seven squares, joined by chance (not only as squares on a grid can be)."""
    count = random.randint(1, 7)
    joined: list[list[int]] = [[] for _ in range(count)]
    for one in range(count):
        for other in range(one):
            if random.random() < 0.4:
                joined[one].append(other)
                joined[other].append(one)
    weight = [random.choice([1, 1, 1, 4]) for _ in range(count)]
    may = [
        tuple(random.sample(range(COLOURS), k=random.choice([1, 2, 3, 3, 3]))) for _ in range(count)
    ]
    return Task(
        places=[Place(column, 1) for column in range(1, count + 1)],
        weight=weight,
        joined=joined,
        may=may,
        target=[first for first, *_ in may],
        room=[
            Room(random.randint(0, sum(weight)), random.randint(1, count)) for _ in range(COLOURS)
        ],
    )


def ways(task: Task) -> Iterator[tuple[int, ...]]:
    """Every choice of colours that ``may`` allows, whatever the store and the neighbours."""
    return product(*task.may)


def keeps_rules(task: Task, colours: tuple[int, ...]) -> bool:
    """Whether the store suffices and no two joined squares are alike."""
    return all(
        sum(weight for weight, own in zip(task.weight, colours, strict=True) if own == colour)
        <= room.units
        and colours.count(colour) <= room.squares
        for colour, room in enumerate(task.room)
    ) and all(
        colours[one] != colours[other] for one, others in enumerate(task.joined) for other in others
    )


@pytest.mark.parametrize("dive", [0, 10])
def test_it_finds_a_way_exactly_when_there_is_one(dive: int) -> None:
    random = Random(dive)
    found_some = 0
    for _ in range(400):
        task = some_task(random)
        found = Descent(task, Effort(100_000, Work()), dive).colours()
        if found is None:
            assert not any(keeps_rules(task, colours) for colours in ways(task))
        else:
            found_some += 1
            assert all(own in may for own, may in zip(found, task.may, strict=True))
            assert keeps_rules(task, tuple(found))
    assert 100 < found_some < 350


def test_what_is_counted_as_short_is_short() -> None:
    random = Random(1)
    short = 0
    for _ in range(400):
        task = some_task(random)
        if Count(task, Work()).missing:
            short += 1
            assert not any(keeps_rules(task, colours) for colours in ways(task))
    assert short > 50


def test_coming_nearer_keeps_the_rules_and_never_leads_away() -> None:
    random = Random(2)
    came = 0
    for _ in range(400):
        task = some_task(random)
        found = Descent(task, Effort(100_000, Work()), dive=0).colours()
        if found is not None:
            partial = Partial(task)
            partial.give_all(enumerate(found))
            before = partial.missed()
            after = nearer(partial, Effort(1000, Work()))
            assert keeps_rules(task, tuple(after.colour))
            assert after.missed() <= before
            came += after.missed() < before
    assert came > 50


def test_three_squares_that_all_touch_take_three_colours() -> None:
    task = Task(
        places=[Place(column, 1) for column in (1, 2, 3)],
        weight=[1, 1, 1],
        joined=[[1, 2], [0, 2], [0, 1]],
        may=[(0, 1)] * 3,
        target=[None] * 3,
        room=[Room(3, 3)] * 2,
    )
    shortage = Count(task, Work()).shortage()
    assert shortage is not None
    assert (shortage.short, shortage.colours, shortage.most) == (1, [], {0: 1, 1: 1})
