"""Who of several knitters could begin which square next: a suggestion that binds nobody."""

from collections.abc import Hashable, Mapping, Sequence, Set
from typing import TypeVar

from drives.craft.places import Place

KnitterId = TypeVar("KnitterId", bound=Hashable)
PieceId = TypeVar("PieceId", bound=Hashable)


def spread(
    places: Sequence[Place],
    room: Mapping[KnitterId, int],
    *,
    pieces: Mapping[Place, Set[PieceId]],
    at_work: Mapping[PieceId, Set[KnitterId]],
    most: int | None = None,
    holders: Mapping[PieceId, KnitterId | None] | None = None,
    barred: Mapping[Place, Set[KnitterId]] | None = None,
) -> dict[KnitterId, list[Place]]:
    """The squares ``places``, the best first, over the knitters of ``room``.

    ``room`` says how many each has room for; who comes first in it is served first, and nobody
    gets a second square while somebody else who could has none. ``pieces`` are those that a
    square is worked on, ``at_work`` who works on them now, and ``most`` how many may (None: any
    number). Who is ``barred`` from a square does not get it. Of knitters with equally many, one who
    has a piece of the square goes first.
    """
    given: dict[KnitterId, list[Place]] = {knitter: [] for knitter in room}
    working = {piece: set(knitters) for piece, knitters in at_work.items()}
    for place in places:
        under = pieces.get(place, frozenset())
        able = [
            knitter
            for knitter in room
            if len(given[knitter]) < room[knitter]
            and knitter not in (barred or {}).get(place, ())
            and all(_fits(working.get(piece, set()), knitter, most) for piece in under)
        ]
        if not able:
            continue
        has = {knitter: sum((holders or {}).get(at) == knitter for at in under) for knitter in able}
        chosen = min(able, key=lambda knitter: (len(given[knitter]), -has[knitter]))
        given[chosen].append(place)
        for piece in under:
            working.setdefault(piece, set()).add(chosen)
    return given


def _fits(working: Set[KnitterId], knitter: KnitterId, most: int | None) -> bool:
    return most is None or knitter in working or len(working) < most
