"""Brings a finished colouring nearer to what its squares wish."""

from .partial import Partial
from .search import Search
from .task import Effort, Spent, Work

STEPS = 20
STEPS_TO_COMPARE = 5  # two squares that might exchange their colours
STEPS_OF_ONE = 50  # to look at one square of a chain, and to exchange it


def nearer(partial: Partial, effort: Effort) -> Partial:
    """A finished colouring as near to the pattern as is found, or ``partial`` itself.

    Squares that miss it are given its colour by force, one at a time, and the others searched.
    """
    try:
        return _nearest(partial, effort)
    except Spent:
        return partial  # whatever was exchanged until then is in it


def _nearest(partial: Partial, effort: Effort) -> Partial:
    bring_nearer(partial, effort.work)
    task = partial.task
    for square, may in enumerate(task.may):
        if task.target[square] is None or partial.colour[square] == may[0]:
            continue
        if not effort.spend(task.looks):
            break
        effort.work.do(task.looks)
        other = partial.copy()
        search = Search(other)
        search.force(square, may[0])
        if search.run(STEPS, effort):
            bring_nearer(other, effort.work)
            if other.missed() < partial.missed():
                partial = other
    return partial


def bring_nearer(partial: Partial, work: Work) -> None:
    """Exchange colours while this brings the squares, taken together, nearer to their wish.

    Raises Spent between two exchanges: all squares have a colour at any time.
    """
    better = True
    while better:
        better = False
        for square, may in enumerate(partial.task.may):
            for colour in may[: may.index(partial.colour[square])]:
                work.do(STEPS_OF_ONE + STEPS_TO_COMPARE * len(partial.of[colour]))
                if _flip(partial, square, colour, work) or _swap(partial, square, colour):
                    better = True
                    break


def _flip(partial: Partial, square: int, colour: int, work: Work) -> bool:
    """Exchange two colours in those of their squares that hang together (a Kempe chain)."""
    task, far = partial.task, partial.far
    worn = partial.colour[square]
    if task.lots and (task.lots.kin[worn] or task.lots.kin[colour]):
        return False  # other lots may lie beside the chain
    other = {worn: colour, colour: worn}
    chain = {square: worn}
    gain = units = squares = 0
    ahead = [square]
    for each in ahead:
        work.do(STEPS_OF_ONE)
        own = chain[each]
        to = other[own]
        if to not in task.may[each]:
            return False
        gain += far[each][own] - far[each][to]
        sign = 1 if to == colour else -1
        units += sign * task.weight[each]
        squares += sign
        if not partial.beside[each][to]:
            continue
        for joined in task.joined[each]:
            if partial.colour[joined] == to and joined not in chain:
                chain[joined] = to
                ahead.append(joined)
    fits = -partial.units[worn] <= units <= partial.units[colour]
    if gain <= 0 or not fits or not -partial.squares[worn] <= squares <= partial.squares[colour]:
        return False
    for each in chain:
        partial.take(each)
    for each, own in chain.items():
        partial.give(each, other[own])
    return True


def _swap(partial: Partial, square: int, colour: int) -> bool:
    """Let a square and another one, elsewhere, exchange their colours."""
    task, far, weight = partial.task, partial.far, partial.task.weight
    worn = partial.colour[square]
    if partial.beside[square][colour]:
        return False
    gain = far[square][worn] - far[square][colour]
    for other in partial.of[colour]:
        more = weight[square] - weight[other]
        if (
            worn in task.may[other]
            and far[other][worn] - far[other][colour] < gain
            and not partial.beside[other][worn]
            and -partial.units[worn] <= more <= partial.units[colour]
        ):
            partial.take(square)
            partial.take(other)
            partial.give(square, colour)
            partial.give(other, worn)
            return True
    return False
