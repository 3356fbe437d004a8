"""Everything that is stored about one blanket."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from accounts.models import Event, Topic
from drives.craft.places import Place
from drives.models import Blanket, Claim, Piece, Square, State

from .finding import Finding

# What the log's verbs made of a square; verbs that leave its state alone are not here.
STATE_AFTER = {
    "claimed": State.TAKEN,
    "given-back": State.OPEN,
    "released": State.OPEN,
    "lapsed": State.OPEN,
    "finished": State.FINISHED,
    "ripped-back": State.OPEN,
}


@dataclass(frozen=True)
class Rows:
    """``claims`` of each square, the oldest first. ``logged``: its state as the log has it."""

    blanket: Blanket
    squares: dict[Place, Square]
    claims: dict[Place, list[Claim]]
    pieces: list[Piece]
    logged: dict[str, State]

    @classmethod
    def of(cls, blanket: Blanket) -> Rows:
        """Four queries, whatever the size of the blanket."""
        squares = {square.place: square for square in blanket.squares.select_related("knitter")}
        claims: dict[Place, list[Claim]] = {place: [] for place in squares}
        made = Claim.objects.filter(square__blanket=blanket).order_by("pk")
        for claim in made.select_related("square", "member"):
            claims[claim.square.place].append(claim)
        events = Event.objects.about(Topic.BLANKET, blanket.pk).filter(verb__in=STATE_AFTER)
        told = events.order_by("pk").values_list("facts__place", "verb")
        return cls(
            blanket=blanket,
            squares=squares,
            claims=claims,
            pieces=list(blanket.pieces.order_by("pk")),
            logged={place: STATE_AFTER[verb] for place, verb in told},
        )

    def finding(self, what: str, places: Iterable[Place] = ()) -> Finding:
        """``what`` is wrong with these squares, or with the blanket as a whole."""
        return Finding(", ".join([f"blanket {self.blanket.pk}", *map(str, sorted(places))]), what)
