"""What the site has answered, and whether its log and its rows know of it afterwards."""

import threading
from collections import Counter
from collections.abc import Iterator
from typing import Any, NamedTuple

from accounts.models import Event, Invitation, Member
from drives.models import HandOver, Move, Sheet


class Fact(NamedTuple):
    """Something that was to become so: ``verb`` of the row ``of``, and what else tells it apart."""

    verb: str
    of: int
    what: str = ""


class Book:
    """Every write that was asked for, by how it was answered.

    ``sure``: done by this call. ``done``: so now, by this call or before. ``unknown``: nobody
    answered. What was refused is only counted.
    """

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self.sure: Counter[Fact] = Counter()
        self.done: Counter[Fact] = Counter()
        self.unknown: Counter[Fact] = Counter()
        self.answers: Counter[str] = Counter()

    def count(self, answer: str) -> None:
        with self._lock:
            self.answers[answer] += 1

    def note(self, page: Counter[Fact], fact: Fact) -> None:
        with self._lock:
            page[fact] += 1


# Verbs of the log that only people of the campaign cause, and one event for each time.
BY_PEOPLE = ("claimed", "finished", "given-back", "extended", "ripped-back", "piece-lost")


MOVED = ("yarn", "way", "held", "grams")


# Of these the site forgets the rows when they are old, and a clock put forward makes them old.
FORGOTTEN = ("invited", "document")


def compared(book: Book, first_event: int, *, aged: bool) -> Iterator[str]:
    """What is not as it was answered: writes lost, writes doubled."""
    known = _events(first_event) + _rows()
    for fact, times in book.sure.items():
        if known[fact] < times:
            yield f"lost: {fact} was answered {times} times, and happened {known[fact]} times"
    for fact in book.done:
        if not known[fact] and not (aged and fact.verb in FORGOTTEN):
            yield f"lost: {fact} was answered, and never happened"
    asked = book.sure + book.done + book.unknown
    for fact, times in known.items():
        if fact.verb in BY_PEOPLE and times > asked[fact]:
            yield f"doubled: {fact} was asked {asked[fact]} times, and happened {times} times"


def _events(first_event: int) -> Counter[Fact]:
    events = Event.objects.filter(pk__gt=first_event, by__isnull=False).order_by("pk")
    return Counter(
        Fact(verb, of, _what(verb, facts))
        for verb, of, facts in events.values_list("verb", "topic_id", "facts").iterator()
    )


def _what(verb: str, facts: dict[str, Any]) -> str:
    match verb:
        case "claimed":
            return f"{facts['place']} {facts['member']}"
        case "weighed":
            return f"{facts['place']} {facts['grams']}"
        case "piece-lost":
            return str(facts["piece"])
        case "member-removed":
            return str(facts["member"])
        case _:
            return str(facts.get("place", ""))


def _rows() -> Counter[Fact]:
    return Counter(
        [
            *(Fact("document", pk) for pk in Sheet.objects.values_list("pk", flat=True)),
            *_hand_overs(),
            *(
                Fact("moved", yarn, f"{way} {abs(held or grams)}")
                for yarn, way, held, grams in Move.objects.values_list(*MOVED)
            ),
            *_members(),
            *(
                Fact("invited", circle, email)
                for circle, email in Invitation.objects.values_list("circle", "email")
            ),
        ]
    )


def _hand_overs() -> Iterator[Fact]:
    for each in HandOver.objects.iterator():
        yield Fact("hand-over", each.pk)
        if each.sent_at:
            yield Fact("sent", each.pk)
        if each.received:
            yield Fact("received", each.pk)
        elif each.ended_at:
            yield Fact("cancelled", each.pk)


def _members() -> Iterator[Fact]:
    for member in Member.objects.iterator():
        yield Fact("member", member.circle_id, member.name)
        if member.user_id:
            yield Fact("joined", member.circle_id, str(member.user_id))
