"""The life of each square, followed through the log: a model that knows no query and no lock."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from accounts.models import Event, Topic
from drives.models import Blanket, Claim, StoredState


@dataclass
class Life:
    """Squares by their names. ``stands_on`` is empty where the layout changes meanwhile."""

    stands_on: Mapping[str, Collection[str]]
    holder: dict[str, int] = field(default_factory=dict)
    finished: set[str] = field(default_factory=set)

    def happens(self, verb: str, facts: dict[str, Any]) -> Iterator[str]:
        """What is wrong with that, as things stand."""
        place = facts.get("place", "")
        if verb == "claimed":
            if place in self.holder or place in self.finished:
                yield f"{place} got a second holder"
            if missing := [
                each for each in self.stands_on.get(place, ()) if each not in self.finished
            ]:
                yield f"{place} was begun on unfinished {missing}"
            self.holder[place] = facts["member"]
        elif verb in ("given-back", "released", "lapsed", "finished"):
            if self.holder.pop(place, None) != facts["member"]:
                yield f"{place} was {verb} by somebody who did not have it"
            if verb == "finished":
                self.finished.add(place)
        elif verb == "ripped-back":
            if place not in self.finished:
                yield f"{place} was ripped back unfinished"
            yield from self._gone({place})
        elif verb == "piece-lost":
            for released in facts["released"]:
                self.holder.pop(released, None)
            yield from self._gone(set(facts["squares"]))

    def _gone(self, places: set[str]) -> Iterator[str]:
        self.finished -= places
        for other, under in self.stands_on.items():
            if not places.isdisjoint(under) and (other in self.holder or other in self.finished):
                yield f"{sorted(places)} went from under {other}"


def followed(blanket: Blanket, *, changes: bool) -> Iterator[str]:
    """What is wrong in the lives of its squares, and where they did not end as the rows say."""
    plan = blanket.plan()
    stands_on = {} if changes else {
        str(place): [*map(str, plan.stands_on[place])] for place in plan.places
    }  # fmt: skip
    life = Life(stands_on)
    told = Event.objects.filter(topic=Topic.BLANKET, topic_id=blanket.pk).order_by("pk")
    for pk, verb, facts in told.values_list("pk", "verb", "facts").iterator():
        yield from (f"event {pk}: {wrong}" for wrong in life.happens(verb, facts))
    rows = {str(square): square.state for square in blanket.squares.all()}
    for place, state in rows.items():
        lived = (
            StoredState.TAKEN if place in life.holder
            else StoredState.FINISHED if place in life.finished
            else StoredState.OPEN
        )  # fmt: skip
        if state != lived:
            yield f"{place} is {state}, and by its life {lived}"
    held = Claim.objects.open().filter(square__blanket=blanket).select_related("square")
    if {str(claim.square): claim.member_id for claim in held} != life.holder:
        yield "its squares are in other hands than by their lives"
