"""A blanket as it stands: one reading of its rows, for pages, API and sheets alike."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property

from drives.craft import states
from drives.craft.places import Place
from drives.craft.plan import Plan

from .blanket import Blanket
from .claim import Claim
from .square import Square, State


@dataclass(frozen=True)
class Board:
    """The facts about every square. ``claims`` are the open ones, each with its member."""

    blanket: Blanket
    plan: Plan
    finished: frozenset[Place]
    taken: frozenset[Place]
    colours: dict[Place, str]  # only squares that have one
    claims: dict[Place, Claim]

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


def board(blanket: Blanket) -> Board:
    """Read ``blanket``'s board: two queries, and two more when its plan is not yet known."""
    plan = blanket.plan()
    finished, taken, colours = set(), set(), {}
    squares = Square.objects.filter(blanket=blanket).values_list("column", "row", "state", "colour")
    for column, row, state, colour in squares:
        if state == State.OPEN and not colour:
            continue
        place = Place(column, row)
        if state == State.FINISHED:
            finished.add(place)
        elif state == State.TAKEN:
            taken.add(place)
        if colour:
            colours[place] = colour
    claims = Claim.objects.open().filter(square__blanket=blanket).select_related("member", "square")
    return Board(
        blanket=blanket,
        plan=plan,
        finished=frozenset(finished),
        taken=frozenset(taken),
        colours=colours,
        claims={claim.square.place: claim for claim in claims},
    )
