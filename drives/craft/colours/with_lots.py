"""A colour plan whose dye lots lie as is wished: colours and lots are looked for together."""

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from typing import NamedTuple

from drives.craft.layout.plan import Plan
from drives.craft.places import Place
from drives.craft.yarn.lots import LotWay

from .lots import Lot, place_lots
from .nearer import nearer
from .neighbours import sewn_to
from .partial import Partial
from .plan import EFFORT, NEARER, Coloured, Impossible, SearchGaveUp, colour_plan, solved
from .task import Effort, Room, Spent, Task, TaskLots, Work, task
from .wish import Wish

MOST_TOUCHING = 600_000  # pairs of squares; more of them take too long to mind


class LotWish(NamedTuple):
    """The lots of one colour, and how they meet; the fields as ``place_lots`` takes them."""

    way: LotWay
    rooms: Mapping[Lot, int | None]
    kept: Mapping[Place, Lot | None]
    near: Mapping[Place, Lot]


def plan_with_lots(
    plan: Plan, wish: Wish, lots: Mapping[str, LotWish], *, effort: int = EFFORT
) -> Coloured | Impossible | SearchGaveUp:
    """As ``colour_plan``, and so that the ``lots`` of the colours can be placed.

    A plan of colours alone comes first. Where its lots cannot lie as is wished, each lot is
    counted as a colour of its own, with its own room. Where no such plan is found the first one is
    answered: whoever places its lots is told so.
    """
    found = colour_plan(plan, wish, effort=effort)
    if not isinstance(found, Coloured) or lots_lie(plan, {**wish.kept, **found.colours}, lots):
        return found
    colours = _together(plan, wish, lots, effort)
    if colours is None:
        return found
    moved = sum(colours[place] != own for place, own in found.colours.items())
    return Coloured(colours, found.moved + moved)


def lots_lie(plan: Plan, colours: Mapping[Place, str], lots: Mapping[str, LotWish]) -> bool:
    """Whether a way was found to place the lots of squares with these ``colours``."""
    for name, (way, rooms, kept, near) in lots.items():
        squares = [
            place for place in plan.places if colours.get(place) == name and place not in kept
        ]
        try:
            if place_lots(plan, way, squares, rooms, kept=kept, near=near) is None:
                return False
        except Spent:
            return False
    return True


def _together(
    plan: Plan, wish: Wish, lots: Mapping[str, LotWish], effort: int
) -> dict[Place, str] | None:
    """The colours of all that is not kept; None where there are none, or none were found."""
    opened, work = _opened(plan, wish, lots), Work()
    try:
        left, colour_of = _task(plan, opened, lots)
        found = solved(left, Effort(effort, work))
    except Spent:
        return None
    if not isinstance(found, Partial):
        return None
    found = nearer(found, Effort(effort // NEARER, work))
    names = list(wish.colours)
    colours = {
        place: names[colour_of[own]] for place, own in zip(left.places, found.colour, strict=True)
    }
    used = Counter([*colours.values(), *opened.kept.values()])
    if any(used[name] > most for name, most in wish.at_most.items()):  # of all its lots together
        return None
    return {place: name for place, name in colours.items() if place not in wish.kept}


def _opened(plan: Plan, wish: Wish, lots: Mapping[str, LotWish]) -> Wish:
    """The wish in which kept squares that have yet to get a lot are open to their colour alone."""
    free = {
        place: name
        for place, name in wish.kept.items()
        if name in lots and place not in lots[name].kept
    }
    more: Counter[str] = Counter()
    for place, name in free.items():
        more[name] += plan.size[place] ** 2
    return replace(
        wish,
        kept={place: name for place, name in wish.kept.items() if place not in free},
        allowed={**wish.allowed, **{place: (name,) for place, name in free.items()}},
        colours={
            name: None if units is None else units + more[name]
            for name, units in wish.colours.items()
        },
    )


def _task(plan: Plan, wish: Wish, lots: Mapping[str, LotWish]) -> tuple[Task, list[int]]:
    """What is left to colour with each lot as a colour; and of each of these its own colour.

    Raises Spent.
    """
    base = task(plan, wish)
    parts = [
        (colour, lot)
        for colour, name in enumerate(wish.colours)
        for lot in (lots[name].rooms if name in lots else (None,))
    ]
    number = {part: at for at, part in enumerate(parts)}
    of_colour = [[lot for own, lot in parts if own == at] for at in range(len(wish.colours))]
    beside = {way: _beside(plan, way) for way in {each.way for each in lots.values()}}
    names = list(wish.colours)

    def open_to(place: Place, colour: int) -> list[Lot | None]:
        """The lots that squares which are begun leave it, the former one first."""
        if (wanted := lots.get(names[colour])) is None:
            return [None]
        touched = {wanted.kept.get(other) for other in beside[wanted.way][place]} - {None}
        found = [lot for lot in of_colour[colour] if touched <= {lot}]
        return sorted(found, key=lambda lot: lot != wanted.near.get(place))

    may = [
        tuple(number[colour, lot] for colour in own for lot in open_to(place, colour))
        for place, own in zip(base.places, base.may, strict=True)
    ]
    target = [
        None if to is None else next((own for own in open_ if parts[own][0] == to), None)
        for to, open_ in zip(base.target, may, strict=True)
    ]
    squares = {place: at for at, place in enumerate(base.places)}
    touch = {
        way: [[squares[other] for other in its[place] if other in squares] for place in squares]
        for way, its in beside.items()
    }
    lotted = [lots.get(names[colour]) for colour, _lot in parts]
    return replace(
        base,
        may=may,
        target=target,
        room=[
            _room(base, colour, lots[names[colour]].rooms[lot]) if lot is not None
            else base.room[colour]
            for colour, lot in parts
        ],
        lots=TaskLots(
            kin=[
                tuple(number[colour, other] for other in of_colour[colour] if other != lot)
                for colour, lot in parts
            ],
            touch=[touch[each.way] if each else [[] for _ in squares] for each in lotted],
        ),
    ), [colour for colour, _lot in parts]  # fmt: skip


def _room(base: Task, colour: int, units: int | None) -> Room:
    return Room(sum(base.weight) if units is None else units, base.room[colour].squares)


def _beside(plan: Plan, way: LotWay) -> dict[Place, list[Place]]:
    """The squares that must not have another lot of its colour than each. Raises Spent.

    Never side by side: those that touch it. Changed at a seam: all of its panel.
    """
    joined = {place: [*plan.stands_on[place], *plan.carries[place]] for place in plan.places}
    if way is LotWay.NEVER_SIDE_BY_SIDE:
        sewn = sewn_to(plan)
        return {
            place: list(dict.fromkeys((*beside, *sewn.get(place, ()))))
            for place, beside in joined.items()
        }
    panel: dict[Place, list[Place]] = {}
    pairs = 0
    for first in plan.places:
        if first in panel:
            continue
        ahead = {first: None}
        line = [first]
        for place in line:
            for other in joined[place]:
                if other not in ahead:
                    ahead[other] = None
                    line.append(other)
        pairs += len(line) ** 2
        if pairs > MOST_TOUCHING:
            raise Spent
        panel |= dict.fromkeys(line, line)
    return {place: [other for other in panel[place] if other != place] for place in plan.places}
