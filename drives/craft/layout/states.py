"""What each square's state is, and what may be done with it. Decides; changes nothing."""

from collections.abc import Collection, Hashable, Mapping, Set
from enum import StrEnum
from typing import NamedTuple

from drives.craft.places import Place

from .plan import Plan


class State(StrEnum):
    """Only *taken* and *finished* are facts; *waiting* and *ready* follow from the layout."""

    WAITING = "waiting"
    READY = "ready"
    TAKEN = "taken"
    FINISHED = "finished"


class Obstacle(StrEnum):
    """Why a square cannot be begun; the values are the codes of the API."""

    FINISHED = "already-finished"
    TAKEN = "already-taken"
    NOT_READY = "not-ready"


class Refusal(NamedTuple):
    """Why a square cannot be begun, and the unfinished squares that it waits for."""

    obstacle: Obstacle
    waiting_for: tuple[Place, ...] = ()


class Offer(NamedTuple):
    """A ready square with what speaks for it.

    ``chain``: squares in the longest chain that begins with it. ``frees``: the squares that
    become ready as soon as it is finished. ``hand_overs``: pieces that whoever asks would have to
    get from others first.
    """

    place: Place
    chain: int
    frees: tuple[Place, ...]
    hand_overs: int = 0


def state(plan: Plan, place: Place, *, finished: Set[Place], taken: Set[Place]) -> State:
    if place in finished:
        return State.FINISHED
    if place in taken:
        return State.TAKEN
    return (
        State.READY
        if all(support in finished for support in plan.stands_on[place])
        else State.WAITING
    )


def unmet(plan: Plan, place: Place, *, finished: Set[Place]) -> int:
    """How many of the squares that the one at ``place`` stands on are unfinished."""
    return sum(support not in finished for support in plan.stands_on[place])


def refusal(plan: Plan, place: Place, *, finished: Set[Place], taken: Set[Place]) -> Refusal | None:
    """Why the square at ``place`` cannot be begun now; None when it can."""
    match state(plan, place, finished=finished, taken=taken):
        case State.FINISHED:
            return Refusal(Obstacle.FINISHED)
        case State.TAKEN:
            return Refusal(Obstacle.TAKEN)
        case State.WAITING:
            missing = tuple(support for support in plan.stands_on[place] if support not in finished)
            return Refusal(Obstacle.NOT_READY, missing)
        case State.READY:
            return None


def rip_first(plan: Plan, place: Place, *, begun: Collection[Place]) -> tuple[Place, ...]:
    """The squares ``begun`` (finished or taken) that stand on ``place``, topmost first.

    Each of them must be ripped back, or given back, before ``place`` can be.
    """
    above: set[Place] = set()
    ahead = [place]
    while ahead:
        for square in plan.carries[ahead.pop()]:
            if square in begun and square not in above:
                above.add(square)
                ahead.append(square)
    return tuple(
        sorted(
            above, key=lambda square: (plan.round[square], square.row, square.column), reverse=True
        )
    )


def freed(plan: Plan, place: Place, *, finished: Set[Place]) -> tuple[Place, ...]:
    """The squares whose only unfinished support is ``place``."""
    return tuple(
        above
        for above in plan.carries[place]
        if above not in finished
        and all(support == place or support in finished for support in plan.stands_on[above])
    )


def offers(
    plan: Plan,
    *,
    finished: Set[Place],
    taken: Set[Place],
    holders: Mapping[Place, Hashable] | None = None,
    asks: Hashable = None,
) -> list[Offer]:
    """The squares that can be begun now, best first.

    First the longest chain still to come, then what frees most, then the fewest hand-overs, then
    the recommended order. Where pieces travel, ``holders`` tells who has the piece of a finished
    square (any square of it will do), and ``asks`` who wants to knit.
    """
    elsewhere: dict[Place, int] = {}
    if holders:
        for number, piece in enumerate(plan.pieces(among=finished)):
            hands = {holders[place] for place in piece & holders.keys()}
            if hands and asks not in hands:
                elsewhere.update(dict.fromkeys(piece, number))
    ready = [
        Offer(
            place,
            plan.chain[place],
            freed(plan, place, finished=finished),
            len({elsewhere[each] for each in plan.stands_on[place] if each in elsewhere}),
        )
        for place in plan.places
        if state(plan, place, finished=finished, taken=taken) is State.READY
    ]
    return sorted(ready, key=lambda offer: (-offer.chain, -len(offer.frees), offer.hand_overs))
