"""Everything that is stored about one blanket."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from accounts.models import Event, Topic
from drives.craft.places import Place
from drives.models import Blanket, Claim, HandOver, Piece, RotaLine, Square, StoredState, Turn

from .finding import Finding

# What the log's verbs made of what is said to the rota about a square.
ROTA_AFTER = {
    "rota-accepted": True,
    "rota-line-accepted": True,
    "rota-line-declined": True,
    "rota-taken-back": False,
}

# What the log's verbs made of a square; verbs that leave its state alone are not here.
STATE_AFTER = {
    "claimed": StoredState.TAKEN,
    "given-back": StoredState.OPEN,
    "released": StoredState.OPEN,
    "lapsed": StoredState.OPEN,
    "finished": StoredState.FINISHED,
    "ripped-back": StoredState.OPEN,
    "piece-lost": StoredState.OPEN,
}


@dataclass(frozen=True)
class Rows:
    """``claims`` of each square, the oldest first. ``logged``: its state as the log has it.

    ``planned``: squares about which something is said to the rota, and ``told`` those of which the
    log has it. ``turns`` still open and the open ``hand_overs`` by the id of their piece.
    ``resettled``: the drive's rules about pieces were changed after it was made.
    """

    blanket: Blanket
    squares: dict[Place, Square]
    claims: dict[Place, list[Claim]]
    pieces: list[Piece]
    logged: dict[str, StoredState]
    planned: set[Place]
    told: set[str]
    turns: dict[int, list[Turn]]
    hand_overs: dict[int, HandOver]
    resettled: bool

    @classmethod
    def of(cls, blanket: Blanket) -> Rows:
        """Eight queries, whatever the size of the blanket."""
        squares = {square.place: square for square in blanket.squares.select_related("knitter")}
        claims: dict[Place, list[Claim]] = {place: [] for place in squares}
        made = Claim.objects.filter(square__blanket=blanket).order_by("pk")
        for claim in made.select_related("square", "member"):
            claims[claim.square.place].append(claim)
        events = Event.objects.about(Topic.BLANKET, blanket.pk)
        told = list(
            events.filter(verb__in={*STATE_AFTER, *ROTA_AFTER})
            .order_by("pk")
            .values_list("facts", "verb")
        )
        lines = RotaLine.objects.filter(square__blanket=blanket).select_related("square")
        rota = {
            place: ROTA_AFTER[verb]
            for facts, verb in told
            if verb in ROTA_AFTER
            for place in facts.get("squares") or [facts["place"]]
        }
        turns: dict[int, list[Turn]] = {}
        for turn in Turn.objects.waiting().filter(piece__blanket=blanket).select_related("member"):
            turns.setdefault(turn.piece_id, []).append(turn)
        moving = HandOver.objects.open().filter(piece__blanket=blanket)
        changes = Event.objects.about(Topic.DRIVE, blanket.drive_id).filter(verb="drive-changed")
        return cls(
            blanket=blanket,
            squares=squares,
            claims=claims,
            pieces=list(blanket.pieces.select_related("holder").order_by("pk")),
            logged={
                place: STATE_AFTER[verb]
                for facts, verb in told
                if verb in STATE_AFTER
                for place in _named(facts)
            },
            planned={line.square.place for line in lines},
            told={place for place, stands in rota.items() if stands},
            turns=turns,
            hand_overs={each.piece_id: each for each in moving.select_related("piece", "giver")},
            resettled=any({"mode", "at_once"} & {*change.facts["changed"]} for change in changes),
        )

    @property
    def mode(self) -> str:
        return self.blanket.drive.mode

    def finding(self, what: str, places: Iterable[Place] = ()) -> Finding:
        """``what`` is wrong with these squares, or with the blanket as a whole."""
        return Finding(", ".join([f"blanket {self.blanket.pk}", *map(str, sorted(places))]), what)


def _named(facts: dict[str, Any]) -> list[str]:
    """The squares that an event is about."""
    return [facts["place"]] if "place" in facts else [*facts["squares"], *facts["released"]]
