"""Which squares have to differ from each other in colour."""

from drives.craft.layout.plan import Plan
from drives.craft.places import Place

from .wish import Wish

Neighbours = dict[Place, tuple[Place, ...]]


def neighbours(plan: Plan, wish: Wish) -> Neighbours:
    """The squares that must differ from each: those it joins and, if so wished, those sewn to it.

    None of any where no two need be ``apart``. Who is another's neighbour has it for its own.
    """
    if not wish.apart:
        return dict.fromkeys(plan.places, ())
    sewn = sewn_to(plan) if wish.over_seams else {}
    return {
        place: tuple(
            dict.fromkeys((*plan.stands_on[place], *plan.carries[place], *sewn.get(place, ())))
        )
        for place in plan.places
    }


def sewn_to(plan: Plan) -> dict[Place, list[Place]]:
    """The squares with a seam between them; an empty place has none."""
    if not plan.layout.seams:
        return {}
    square_at = {
        Place(at.column + right, at.row + up): at
        for at, size in plan.size.items()
        for right in range(size)
        for up in range(size)
    }
    found: dict[Place, list[Place]] = {}
    for seam in sorted(plan.layout.seams):
        one, other = square_at.get(seam.first), square_at.get(seam.second)
        if one is not None and other is not None:
            found.setdefault(one, []).append(other)
            found.setdefault(other, []).append(one)
    return found
