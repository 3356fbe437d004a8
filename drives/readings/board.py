"""A blanket as it stands: one reading of its rows, for pages, API and sheets alike."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from functools import cached_property
from typing import NamedTuple

from drives.craft.layout import states
from drives.craft.layout.plan import Plan
from drives.craft.places import Place
from drives.models.blanket import Blanket
from drives.models.claim import Claim
from drives.models.square import Square, StoredState


class SquareLot(NamedTuple):
    """The dye lot that a square is knitted in: the id of its yarn, and what stands on its band."""

    yarn: int
    dye_lot: str


@dataclass(frozen=True)
class Board:
    """The facts about every square. ``claims`` are the open ones, each with its member.

    ``lots``: of the squares that have one, as several dye lots of their colour were chosen.
    """

    blanket: Blanket
    plan: Plan
    finished: frozenset[Place]
    taken: frozenset[Place]
    colours: dict[Place, str]  # only squares that have one
    claims: dict[Place, Claim]
    piece_of: dict[Place, int]  # the id of the piece that each finished square belongs to
    lots: Mapping[Place, SquareLot] = field(default_factory=dict)

    def state(self, place: Place) -> states.State:
        return states.state(self.plan, place, finished=self.finished, taken=self.taken)

    @cached_property
    def state_of(self) -> dict[Place, states.State]:
        return {place: self.state(place) for place in self.plan.places}

    @cached_property
    def offers(self) -> list[states.Offer]:
        """What can be begun now, best first."""
        return states.offers(self.plan, finished=self.finished, taken=self.taken)

    @property
    def percent(self) -> int:
        """Finished squares in per cent; 100 only when all of them are."""
        return len(self.finished) * 100 // len(self.plan.places)

    def late(self, now: datetime) -> Iterator[Claim]:
        return (claim for claim in self.claims.values() if claim.late(now))


def board_of(blanket: Blanket) -> Board:
    """Read ``blanket``'s board: two queries, and two more when its plan is not yet known."""
    return boards_of([blanket])[0]


def boards_of(blankets: Sequence[Blanket]) -> list[Board]:
    """The boards of several blankets, in two queries for all of them."""
    # The plans first: finding one may refresh its blanket.
    plans = {blanket.pk: blanket.plan() for blanket in blankets}
    finished: dict[int, set[Place]] = {pk: set() for pk in plans}
    taken: dict[int, set[Place]] = {pk: set() for pk in plans}
    colours: dict[int, dict[Place, str]] = {pk: {} for pk in plans}
    lots: dict[int, dict[Place, SquareLot]] = {pk: {} for pk in plans}
    claims: dict[int, dict[Place, Claim]] = {pk: {} for pk in plans}
    pieces: dict[int, dict[Place, int]] = {pk: {} for pk in plans}
    squares = Square.objects.filter(blanket__in=plans)
    for pk, column, row, state, colour, piece, yarn, dye_lot in squares.values_list(
        *("blanket_id", "column", "row", "state", "colour", "piece_id"),
        *("dye_lot_id", "dye_lot__dye_lot"),
    ):
        if state == StoredState.OPEN and not colour:
            continue
        place = Place(column, row)
        if state == StoredState.FINISHED:
            finished[pk].add(place)
            if piece is not None:
                pieces[pk][place] = piece
        elif state == StoredState.TAKEN:
            taken[pk].add(place)
        if colour:
            colours[pk][place] = colour
        if yarn is not None:
            lots[pk][place] = SquareLot(yarn, dye_lot)
    held = Claim.objects.open().filter(square__blanket__in=plans)
    for claim in held.select_related("member", "square"):
        claims[claim.square.blanket_id][claim.square.place] = claim
    return [
        Board(
            blanket=blanket,
            plan=plans[blanket.pk],
            finished=frozenset(finished[blanket.pk]),
            taken=frozenset(taken[blanket.pk]),
            colours=colours[blanket.pk],
            claims=claims[blanket.pk],
            piece_of=pieces[blanket.pk],
            lots=lots[blanket.pk],
        )
        for blanket in blankets
    ]
