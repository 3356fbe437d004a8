"""Which colour a pattern gives each square, and which ones come next."""

from collections import defaultdict
from collections.abc import Callable, Sequence
from random import Random

from drives.craft.layout.plan import Plan
from drives.craft.places import Place

from .wish import Pattern, Wish

PATTERNED = {Pattern.BANDS, Pattern.GRADIENT, Pattern.CHEQUERED}  # each square has its colour
Order = Sequence[int]  # colours by number, the most wanted first


def preferences(
    plan: Plan, places: Sequence[Place], wish: Wish, units: Sequence[int]
) -> list[Order]:
    """For each of the ``places`` all colours, the most wanted first.

    That is the colour of the former plan, then the pattern's, then what comes nearest to it or of
    which there is most; ``units`` tells how much, by colour.
    """
    names = list(wish.colours)
    if not names:
        return [()] * len(places)
    order = _BY_PATTERN[wish.pattern](plan, places, wish, units)
    found = []
    for place, colours in zip(places, order, strict=True):
        former = wish.near.get(place)
        if former is not None and former in wish.colours:
            first = names.index(former)
            colours = [first, *[colour for colour in colours if colour != first]]
        found.append(colours)
    return found


def diagonal(plan: Plan, place: Place) -> int:
    """Which diagonal the middle of a square lies on, from 0 at the bottom left."""
    return place.column + place.row + plan.size[place] - 3


def _bands(plan: Plan, places: Sequence[Place], wish: Wish, units: Sequence[int]) -> list[Order]:
    most = _most(units)
    orders = [_first(colour, most) for colour in range(len(units))]
    return [orders[diagonal(plan, place) % len(units)] for place in places]


def _gradient(plan: Plan, places: Sequence[Place], wish: Wish, units: Sequence[int]) -> list[Order]:
    """Along the diagonals; where joined squares must differ, neighbouring colours take turns."""
    on: defaultdict[int, int] = defaultdict(int)  # units on each diagonal
    for place in places:
        on[diagonal(plan, place)] += plan.size[place] ** 2
    shares = _shares(units, sum(on.values()))
    colours = [colour for colour, share in enumerate(shares) if share] or [0]
    orders: dict[int, Order] = {}
    before, last = 0.0, -1
    for line in sorted(on):
        at = _along(shares, colours, before + on[line] / 2)
        before += on[line]
        order = sorted(range(len(units)), key=lambda colour: abs(colour - at))
        if wish.apart and order[0] == last and len(order) > 1:
            order[:2] = order[1::-1]
        orders[line], last = order, order[0]
    return [orders[diagonal(plan, place)] for place in places]


def _along(shares: Sequence[float], colours: Sequence[int], units: float) -> float:
    """The colour that so many ``units`` lead to: 1.5 is the border between colours 1 and 2."""
    for colour in colours:
        if units <= shares[colour]:
            return colour - 0.5 + units / shares[colour]
        units -= shares[colour]
    return colours[-1]


def _chequered(
    plan: Plan, places: Sequence[Place], wish: Wish, units: Sequence[int]
) -> list[Order]:
    most = _most(units)
    found: list[Order] = []
    for place in places:
        turn = (place.column + place.row) % 2
        own = list(range(turn, len(units), 2)) or [0]
        first = own[(place.column - place.row) // 2 % len(own)]
        found.append(sorted(_first(first, most), key=lambda colour: colour % 2 != turn))
    return found


def _scattered(
    plan: Plan, places: Sequence[Place], wish: Wish, units: Sequence[int]
) -> list[Order]:
    """By lot, each colour as likely as its share. Luck goes with a place."""
    shares = _shares(units, sum(plan.size[place] ** 2 for place in places))
    found: list[Order] = []
    for place in places:
        luck = Random(f"{wish.seed}-{place}")  # noqa: S311 - chance, not secrecy
        # Efraimidis and Spirakis, Weighted random sampling (2006).
        lots = [luck.random() ** (1 / share) if share else 0 for share in shares]
        found.append(sorted(range(len(units)), key=lambda colour: -lots[colour]))
    return found


def _free(plan: Plan, places: Sequence[Place], wish: Wish, units: Sequence[int]) -> list[Order]:
    """A knight's move on, the same colour begins."""
    count = len(units)
    found: list[Order] = []
    for place in places:
        first = (place.column + 2 * place.row - 3) % count
        found.append([*range(first, count), *range(first)])
    return found


_BY_PATTERN: dict[Pattern, Callable[[Plan, Sequence[Place], Wish, Sequence[int]], list[Order]]] = {
    Pattern.BANDS: _bands,
    Pattern.GRADIENT: _gradient,
    Pattern.CHEQUERED: _chequered,
    Pattern.SCATTERED: _scattered,
    Pattern.FREE: _free,
}


def _most(units: Sequence[int]) -> list[int]:
    return sorted(range(len(units)), key=lambda colour: -units[colour])


def _first(colour: int, others: Sequence[int]) -> list[int]:
    return [colour, *[other for other in others if other != colour]]


def _shares(units: Sequence[int], wanted: int) -> list[float]:
    """Units of each colour: alike, as far as the store of each goes."""
    shares = [0.0] * len(units)
    left: float = wanted
    by_store = sorted(range(len(units)), key=lambda colour: units[colour])
    for done, colour in enumerate(by_store):
        shares[colour] = min(units[colour], left / (len(units) - done))
        left -= shares[colour]
    return shares
