"""Squares that a colour plan has to keep: whether the yarn suffices, and what is forgiven them."""

from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace

from drives.craft.layout.plan import Plan
from drives.craft.places import Place

from .neighbours import neighbours
from .reasons import Reason, Why
from .wish import Wish


def kept_short(needed: Mapping[str, int], rooms: Mapping[str, int | None]) -> Iterator[Reason]:
    """The colours that are short for kept squares, not knitted yet, that need so many units.

    ``rooms``: the units that each colour suffices for; None, or a colour that is not there: any.
    """
    for colour, units in needed.items():
        room = rooms.get(colour)
        if room is not None and units > room:
            yield Reason(
                Why.SHORT,
                {"colours": [colour], "short": units - room, "wanted": units, "enough_for": room},
            )


def forgiving(plan: Plan, wish: Wish, forgiven: Collection[Place]) -> Wish:
    """The wish without what the ``forgiven`` ones of the kept squares have against each other.

    Those that are neighbours and alike, and more of a colour than there may be, stand so already.
    """
    used = Counter(wish.kept[place] for place in forgiven)
    at_most = {name: max(most, used[name]) for name, most in wish.at_most.items()}
    kept, allowed = dict(wish.kept), dict(wish.allowed)
    near = neighbours(plan, wish)
    number = {place: at for at, place in enumerate(plan.places)}
    for place in forgiven:
        colour = wish.kept[place]
        before = [other for other in near[place] if number[other] < number[place]]
        if all(wish.kept.get(other) != colour or other not in forgiven for other in before):
            continue
        kept[place] = f"{colour}, {place}"  # a colour of its own, that its neighbours still avoid
        if colour in at_most:
            at_most[colour] -= 1
        for other in near[place]:
            if other not in kept:
                open_to = allowed.get(other, wish.colours)
                allowed[other] = [name for name in open_to if name != colour]
    return replace(wish, kept=kept, allowed=allowed, at_most=at_most)
