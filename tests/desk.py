"""The actions on one blanket, by the names of places, for tests to tell short stories with."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.apps import apps

from accounts.models import Event, Member, Topic
from drives.actions.drives.blankets import plan_blanket
from drives.actions.drives.drives import DriveSettings, make_drive
from drives.actions.pieces import hand_overs, loss, queue
from drives.actions.squares import claims
from drives.actions.squares import finishing as squares
from drives.actions.squares.finishing import Finished
from drives.craft.layout.layout import Layout, Seam
from drives.craft.places import Place
from drives.models import Blanket, Claim, Drive, HandOver, HandOverWay, Piece, Square
from shared.basics.refusals import NotedRefusal, Refused

NOW = datetime(2026, 11, 2, 10, tzinfo=UTC)
DAY = timedelta(days=1)
REST_OF_DAY = timedelta(hours=14) - timedelta.resolution  # from NOW to the end of its day

SETTINGS = DriveSettings(
    name="Warm laps",
    purpose="",
    recipient="",
    for_babies=False,
    deadline=None,
    mode="together",
    claim_limit=2,
    claim_days=14,
    grace_days=7,
)


def places(names: str) -> tuple[Place, ...]:
    return tuple(Place.parse(name) for name in names.split())


def seams(pairs: str) -> frozenset[Seam]:
    """``"A1-B1 A2-B2"``: a seam between each two places, where neither waits for the other."""
    return frozenset(Seam(*places(pair.replace("-", " "))) for pair in pairs.split())


def new_drive(by: Member, **changed: Any) -> Drive:
    settings: Any = SETTINGS | changed
    return make_drive(circle=by.circle, by=by, now=NOW, **settings)


def new_blanket(by: Member, layout: Layout, drive: Drive | None = None, **changed: Any) -> Blanket:
    return plan_blanket(
        drive=drive or new_drive(by, **changed),
        by=by,
        name="Blanket",
        gauge=Decimal(20),
        layout=layout,
        now=NOW,
    )


@dataclass(frozen=True)
class Desk:
    """Everything happens at NOW unless ``at`` says otherwise, by its member unless ``by`` does."""

    blanket: Blanket

    def square(self, name: str) -> Square:
        squares = Square.objects.select_related("blanket__drive__circle")
        return squares.filter(blanket=self.blanket).at(Place.parse(name)).get()

    def claim(
        self, name: str, member: Member, by: Member | None = None, at: datetime = NOW
    ) -> Claim:
        square = self.square(name)
        return claims.claim_square(square=square, member=member, by=by or member, now=at)[0]

    def give_back(self, name: str, by: Member, at: datetime = NOW) -> Claim:
        return claims.give_back_square(square=self.square(name), by=by, now=at)

    def release(self, name: str, by: Member, at: datetime = NOW) -> Claim:
        return claims.release_claim(square=self.square(name), by=by, now=at)

    def extend(self, name: str, by: Member, days: int, at: datetime = NOW) -> Claim:
        return claims.extend_claim(square=self.square(name), by=by, days=days, now=at)

    def finish(self, name: str, by: Member, at: datetime = NOW) -> Finished:
        return squares.finish_square(square=self.square(name), by=by, now=at)

    def rip_back(self, name: str, by: Member, at: datetime = NOW) -> Square:
        return squares.rip_back_square(square=self.square(name), by=by, now=at)

    def knit(self, names: str, member: Member, at: datetime = NOW) -> None:
        """``member`` claims and finishes these squares one after the other."""
        for name in names.split():
            self.claim(name, member, at=at)
            self.finish(name, member, at=at)

    def piece(self, name: str) -> Piece:
        live = Piece.objects.live().select_related("holder", "blanket__drive__circle")
        return live.get(blanket=self.blanket, name=name)

    def hand_over(self, name: str) -> HandOver:
        """The open one of the piece."""
        moving = HandOver.objects.open().select_related("piece__blanket__drive__circle")
        return moving.get(piece__blanket=self.blanket, piece__name=name)

    def arrange(
        self,
        name: str,
        receiver: Member,
        by: Member,
        at: datetime = NOW,
        way: HandOverWay = HandOverWay.HAND,
    ) -> HandOver:
        return hand_overs.arrange_hand_over(
            piece=self.piece(name), receiver=receiver, way=way, day=None, by=by, now=at
        )

    def send(self, name: str, by: Member, at: datetime = NOW, note: str = "") -> HandOver:
        return hand_overs.send_piece(hand_over=self.hand_over(name), note=note, by=by, now=at)

    def receive(self, name: str, by: Member, at: datetime = NOW) -> HandOver:
        return hand_overs.receive_piece(hand_over=self.hand_over(name), by=by, now=at)

    def cancel(self, name: str, by: Member, at: datetime = NOW) -> HandOver:
        return hand_overs.cancel_hand_over(hand_over=self.hand_over(name), by=by, now=at)

    def put(self, name: str, member: Member, by: Member, at: datetime = NOW) -> Piece:
        return hand_overs.put_piece_into_hands(piece=self.piece(name), member=member, by=by, now=at)

    def ask(self, name: str, member: Member, at: datetime = NOW) -> Refused:
        """``member`` wants a square whose piece is elsewhere; how they are put off."""
        with pytest.raises(NotedRefusal) as refusal:
            self.claim(name, member, at=at)
        return refusal.value

    def leave_queue(self, name: str, member: Member, at: datetime = NOW) -> bool:
        return queue.leave_queue(piece=self.piece(name), member=member, by=member, now=at)

    def lose(self, name: str, by: Member, at: datetime = NOW) -> list[str]:
        return loss.declare_piece_lost(piece=self.piece(name), by=by, now=at)

    def queue(self, name: str) -> list[str]:
        """Who waits for the piece, the first first."""
        return [turn.member.name for turn in self.piece(name).turns.waiting()]

    def holders(self) -> dict[str, str]:
        live = Piece.objects.live().filter(blanket=self.blanket).select_related("holder")
        return {piece.name: piece.holder.name if piece.holder else "" for piece in live}

    def states(self) -> dict[str, str]:
        """The squares that are begun."""
        begun = self.blanket.squares.exclude(state="open")
        return {str(square): str(square.state) for square in begun}

    def unmet(self) -> dict[str, int]:
        return {str(square): square.unmet for square in self.blanket.squares.all()}

    def pieces(self) -> dict[str, set[str]]:
        """The live pieces with their squares."""
        live = self.blanket.pieces.filter(ended_at=None)
        return {piece.name: {str(square) for square in piece.squares.all()} for piece in live}

    def events(self) -> list[Event]:
        """Oldest first, without the planning."""
        about = Event.objects.about(Topic.BLANKET, self.blanket.pk)
        return list(about.exclude(verb="planned").select_related("by").order_by("pk"))

    def verbs(self) -> list[str]:
        return [event.verb for event in self.events()]


@contextmanager
def refused(code: str, detail: str, **facts: object) -> Iterator[None]:
    """The action inside is refused with exactly this, and changes nothing."""
    before = everything()
    with pytest.raises(Refused) as refusal:
        yield
    assert (refusal.value.code, refusal.value.detail) == (code, detail)
    assert refusal.value.facts == facts
    assert everything() == before


@contextmanager
def nothing_changes() -> Iterator[None]:
    before = everything()
    yield
    assert everything() == before


def everything() -> dict[str, list[dict[str, Any]]]:
    """Every row of ours."""
    models = [*apps.get_app_config("accounts").get_models()]
    models += apps.get_app_config("drives").get_models()
    return {model.__name__: list(model._base_manager.order_by("pk").values()) for model in models}


def twice(action: Callable[[], object]) -> object:
    """Do it, then do it again and see that the second time changes nothing."""
    action()
    with nothing_changes():
        return action()
