"""Which dye lot of its colour each square is knitted in, so that the lots meet as is wished."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from drives.craft.layout.plan import Plan
from drives.craft.places import Place
from drives.craft.yarn.lots import LotWay

from .neighbours import sewn_to
from .task import Spent

MOST_CASES = 200_000
Lot = int


class Group(NamedTuple):
    """Squares that are to be of one lot: ``units`` in all; ``may``: the lots open to them."""

    places: tuple[Place, ...]
    units: int
    may: tuple[Lot, ...]


def place_lots(
    plan: Plan,
    way: LotWay,
    squares: Sequence[Place],
    rooms: Mapping[Lot, int | None],
    *,
    kept: Mapping[Place, Lot | None] | None = None,
    near: Mapping[Place, Lot] | None = None,
    most_cases: int = MOST_CASES,
) -> dict[Place, Lot] | None:
    """A lot for each of the ``squares``, all of one colour; None where it is proven that none fits.

    ``rooms``: the units that each lot suffices for, None for any. ``kept``: other squares of the
    colour with their lots, None where nobody knows them: they stay. ``near``: a former answer, to
    which the squares keep where they can. Raises Spent after ``most_cases``.
    """
    kept = kept or {}
    found = [
        _group(plan, places, rooms, fixed, near or {})
        for places, fixed in _together(plan, way, squares, kept)
    ]
    # What has the fewest ways comes first, then what is hardest to fit in.
    found.sort(key=lambda group: (len(group.may), -group.units))
    chosen = _fitted(found, rooms, most_cases)
    if chosen is None:
        return None
    return {place: lot for group, lot in zip(found, chosen, strict=True) for place in group.places}


def _together(
    plan: Plan, way: LotWay, squares: Sequence[Place], kept: Mapping[Place, Lot | None]
) -> list[tuple[list[Place], set[Lot]]]:
    """The squares that must be of one lot, and the lots of kept ones that this would have to be.

    Never side by side: squares of the colour that touch, sewn or joined, are of one lot. Changed
    at a seam: those of one panel, whether they touch or not.
    """
    sewn = sewn_to(plan) if way is LotWay.NEVER_SIDE_BY_SIDE else {}
    wanted = {*squares}
    of_colour = wanted | kept.keys()
    passed = of_colour if way is LotWay.NEVER_SIDE_BY_SIDE else {*plan.places}
    # What lies between two squares that touch is open to both, unless it is kept as it is.
    stops = {*kept} if way is LotWay.NEVER_SIDE_BY_SIDE else set()
    found = []
    seen: set[Place] = set()
    for first in squares:
        if first in seen:
            continue
        reached, ahead = {first}, [first]
        for place in ahead:
            if place in stops:
                continue
            beside = (*plan.stands_on[place], *plan.carries[place], *sewn.get(place, ()))
            for other in beside:
                if other in passed and other not in reached:
                    reached.add(other)
                    ahead.append(other)
        together = [place for place in ahead if place in wanted]
        fixed = {lot for place in ahead if (lot := kept.get(place)) is not None}
        seen |= {*together}
        found.append((together, fixed))
    return found


def _group(
    plan: Plan,
    places: list[Place],
    rooms: Mapping[Lot, int | None],
    fixed: set[Lot],
    near: Mapping[Place, Lot],
) -> Group:
    """The lots that it may have, that of a former answer first."""
    former = [near[place] for place in places if place in near]
    may = [lot for lot in rooms if fixed <= {lot}]
    may.sort(key=lambda lot: -former.count(lot))
    return Group(tuple(places), sum(plan.size[place] ** 2 for place in places), tuple(may))


def _fitted(
    groups: Sequence[Group], rooms: Mapping[Lot, int | None], most_cases: int
) -> list[Lot] | None:
    """A lot for each group, so that no room is exceeded, looked for depth first.

    A case that came to nothing, so many groups and these rooms, is not looked at twice.
    """
    every = sum(group.units for group in groups)
    left = {lot: every if room is None else room for lot, room in rooms.items()}
    if sum(left.values()) < every:
        return None
    chosen: list[Lot] = []
    tried = [0]  # of each group: the first of its lots that was not tried
    dead: set[tuple[int, ...]] = set()
    cases = 0
    while len(chosen) < len(groups):
        cases += 1
        if cases > most_cases:
            raise Spent
        group, at = groups[len(chosen)], tried[-1]
        state = (len(chosen), *left.values())
        if at < len(group.may) and state not in dead:
            tried[-1] += 1
            lot = group.may[at]
            if left[lot] >= group.units:
                left[lot] -= group.units
                chosen.append(lot)
                tried.append(0)
            continue
        dead.add(state)
        tried.pop()
        if not chosen:
            return None
        left[chosen[-1]] += groups[len(chosen) - 1].units
        chosen.pop()
    return chosen
