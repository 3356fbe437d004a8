"""Circles and their people, sheets and calls: what no single row can tell of itself."""

from collections.abc import Iterator

from django.core.files.storage import default_storage
from django.db.models import Count, Exists, F, Model, OuterRef, Q

from accounts.models import Circle, Event, IdempotentCall, Invitation, Member, Topic
from drives.models import (
    Claim,
    HandOver,
    Holding,
    Move,
    Piece,
    RotaLine,
    Sheet,
    Square,
    Status,
    Turn,
)
from shared.storage.files import FilesAway

from .finding import Finding, where

# Rows that name a person and belong to a circle: the person must be of that circle.
OF_ONE_CIRCLE: tuple[tuple[type[Model], str, str], ...] = (
    (Claim, "member", "square__blanket__drive__circle"),
    (Square, "knitter", "blanket__drive__circle"),
    (Piece, "holder", "blanket__drive__circle"),
    (HandOver, "giver", "piece__blanket__drive__circle"),
    (HandOver, "receiver", "piece__blanket__drive__circle"),
    (Turn, "member", "piece__blanket__drive__circle"),
    (RotaLine, "member", "square__blanket__drive__circle"),
    (Sheet, "requested_by", "blanket__drive__circle"),
    (Holding, "member", "yarn__circle"),
    (Move, "member", "yarn__circle"),
    (Move, "by", "yarn__circle"),
    (Event, "by", "circle"),
    (Invitation, "invited_by", "circle"),
    (Invitation, "member", "circle"),
)


def audit_circles() -> Iterator[Finding]:
    yield from _without_an_organiser()
    yield from _strangers()
    yield from _above_the_limit()
    yield from _lost_files()
    yield from _unanswered_calls()


def _without_an_organiser() -> Iterator[Finding]:
    organisers = Member.objects.present().organisers().filter(circle=OuterRef("pk"))
    for circle in Circle.objects.exclude(Exists(organisers)).order_by("pk"):
        yield Finding(where(circle), f"nobody organises “{circle.name}”.")


def _strangers() -> Iterator[Finding]:
    for model, person, circle in OF_ONE_CIRCLE:
        known = Q(**{f"{person}__isnull": False})
        same = Q(**{f"{person}__circle": F(circle)})
        for row in model._base_manager.filter(known, ~same).order_by("pk"):
            yield Finding(where(row), f"“{person}” names somebody of another circle.")


def _above_the_limit() -> Iterator[Finding]:
    """More squares in hand than a drive allows, and the limit was never lowered."""
    lowered = {
        drive
        for drive, facts in Event.objects.filter(
            topic=Topic.DRIVE, verb="drive-changed"
        ).values_list("topic_id", "facts")
        if "claim_limit" in facts["changed"]
    }
    drive = "square__blanket__drive"
    hands = Claim.objects.open().order_by(drive, "member").values(drive, "member__name")
    counted = hands.annotate(limit=F(f"{drive}__claim_limit"), held=Count("pk"))
    for hand in counted.filter(held__gt=F("limit")):
        if hand[drive] not in lowered:
            what = f"{hand['member__name']} has {hand['held']} squares in hand, "
            yield Finding(f"drive {hand[drive]}", what + f"and {hand['limit']} are allowed.")


def _lost_files() -> Iterator[Finding]:
    try:
        for sheet in Sheet.objects.filter(status=Status.DONE, foretold__isnull=True).order_by("pk"):
            if not (sheet.file.name and default_storage.exists(sheet.file.name)):
                yield Finding(where(sheet), "it is done, but its file is not there.")
    except FilesAway:
        yield Finding("files", "what keeps them does not answer.")


def _unanswered_calls() -> Iterator[Finding]:
    """A call is stored in the transaction that answers it."""
    for call in IdempotentCall.objects.filter(status=None).order_by("pk"):
        yield Finding(where(call), "it was never answered.")
