"""The colour plan: which square is knitted in which colour, or why it cannot be done."""

from dataclasses import dataclass, replace

from drives.craft.layout.plan import Plan
from drives.craft.places import Place

from .count import Count, Shortage
from .nearer import bring_nearer, nearer
from .partial import Partial
from .proof import Descent
from .reasons import Reason, kept_wrongly, no_way, short, without_colour
from .search import Search
from .task import Effort, Room, Spent, Task, Work, task
from .wish import Wish

EFFORT = 500_000
STEPS_TO_FILL = 5  # for each colour of each square
NEARER = 10  # of the effort, this part is spent to come nearer to the wish once there is a plan
FIRST, LONGER = 20, 200  # steps of the search before and after counting


@dataclass(frozen=True)
class Coloured:
    """A colour for every square that is not kept.

    ``moved``: how many of them have another colour than the former plan, or else the pattern,
    gives them.
    """

    colours: dict[Place, str]
    moved: int


@dataclass(frozen=True)
class Impossible:
    """It is proven that there is no plan, for each of these reasons (at least one)."""

    reasons: list[Reason]


@dataclass(frozen=True)
class SearchGaveUp:
    """Neither a plan was found nor a reason why there is none; more effort may find one."""


def colour_plan(
    plan: Plan, wish: Wish, *, effort: int = EFFORT
) -> Coloured | Impossible | SearchGaveUp:
    """A plan as near to the wish as the rules allow; the same wish gives the same plan.

    That it is the nearest of all is not promised. ``effort`` counts looks at one colour of one
    square, whatever the time they take; where it runs out, or on the largest blankets ``Work``
    does, the answer is GaveUp.
    """
    left = task(plan, wish)
    wrong = [*kept_wrongly(plan, wish), *without_colour(plan, wish, left)]
    if wrong:
        return Impossible(wrong)
    work = Work()
    try:
        found = solved(left, Effort(effort, work))
    except Spent:
        return SearchGaveUp()
    if found is None:
        return Impossible([_no_way(wish, left, effort, work)])
    if isinstance(found, Shortage):
        return Impossible([short(wish, left, found)])
    found = nearer(found, Effort(effort // NEARER, work))
    names = list(wish.colours)
    return Coloured(
        {place: names[own] for place, own in zip(left.places, found.colour, strict=True)},
        sum(own != to for own, to in zip(found.colour, left.target, strict=True) if to is not None),
    )


def still_possible(plan: Plan, wish: Wish, place: Place, *, effort: int = EFFORT) -> list[str]:
    """The colours that the square at ``place``, not kept, may have so that all can be coloured.

    Each is one with which a plan was found; where the ``effort`` for a colour runs out before, it
    is not offered. ``wish.near`` speeds this up: it should be the plan that there is.
    """
    if any(kept_wrongly(plan, wish)):
        return []
    left = task(plan, wish)
    square, work = left.places.index(place), Work()
    may = left.may[square]
    return [
        name
        for colour, name in enumerate(wish.colours)
        if colour in may and _can_be(left, square, colour, Effort(effort, work))
    ]


def _can_be(left: Task, square: int, colour: int, effort: Effort) -> bool:
    may = [*left.may[:square], (colour,), *left.may[square + 1 :]]
    try:
        return isinstance(solved(replace(left, may=may), effort), Partial)
    except Spent:
        return False


def solved(left: Task, effort: Effort) -> Partial | Shortage | None:
    """All coloured; or what is short; or None where there is no plan. Raises Spent."""
    effort.work.do(STEPS_TO_FILL * left.looks)
    partial = Partial(left)
    partial.fill()
    search = Search(partial)
    if search.run(FIRST, effort):
        return partial
    shortage = Count(left, effort.work).shortage()
    if shortage is not None:
        return shortage
    if search.run(LONGER, effort):
        return partial
    colours = Descent(left, effort).colours()
    if colours is None:
        return None
    partial = Partial(left)
    partial.give_all(enumerate(colours))
    return partial


def _no_way(wish: Wish, left: Task, effort: int, work: Work) -> Reason:
    """With the colour of which the fewest squares more would do, or else with another colour."""
    found = []
    for colour, name in enumerate(wish.colours):
        if wish.colours[name] is not None:
            more = _more(left, colour, effort // 10, work)
            found += [(more, name)] if more else []
    if found:
        more, name = min(found)
        return no_way(left, name, more)
    other = len(left.room)
    may = [(*may, other) for may in left.may]
    more = _more(
        replace(left, may=may, room=[*left.room, Room(0, len(may))]), other, effort // 10, work
    )
    return no_way(left, None, more)


def _more(left: Task, colour: int, effort: int, work: Work) -> int:
    """With so many units more of ``colour`` there is a plan; 0 where none was found."""
    room = left.room[colour]
    may = [tuple(sorted(may, key=lambda other: other == colour)) for may in left.may]
    more = 0
    units = room.units + sum(left.weight)
    while units > room.units:
        rooms = [*left.room[:colour], room._replace(units=units), *left.room[colour + 1 :]]
        try:
            partial = solved(replace(left, may=may, room=rooms), Effort(effort, work))
            if not isinstance(partial, Partial):
                break
            bring_nearer(partial, work)
        except Spent:
            break
        units -= partial.units[colour] + 1
        more = units + 1 - room.units
    return more
