"""Who is meant in the log: events name people by id, and are told with the names of today."""

from collections.abc import Iterable, Mapping
from typing import Any

from django.utils.translation import gettext as _

from accounts.models import Event, Member

NAMES = ("member", "to")
"""The facts that may name somebody; in events of earlier days perhaps by name."""


def people_in(events: Iterable[Event]) -> dict[int, str]:
    """The names of all whom the events, read with ``by``, are about; a query for those unknown."""
    names: dict[int, str] = {}
    meant: set[int] = set()
    for event in events:
        meant |= {event.facts[fact] for fact in NAMES if by_id(event, fact)}
        if event.by:
            names[event.by.pk] = event.by.name
    if others := meant - names.keys():
        names |= dict(Member.objects.filter(pk__in=others).values_list("pk", "name"))
    return names


def told_facts(event: Event, names: Mapping[int, str]) -> dict[str, Any]:
    """The event's facts, with names where it has ids."""
    said = {
        fact: names.get(event.facts[fact]) or _("somebody") for fact in NAMES if by_id(event, fact)
    }
    return {**event.facts, **said}


def did_so_alone(event: Event) -> bool:
    """Whether whoever acted did so for themselves; the site does nothing for others."""
    if event.by is None:
        return True
    return event.facts.get("member") in (event.by.pk, event.by.name)


def by_id(event: Event, fact: str) -> bool:
    """Whether this fact of the event is a person's id."""
    return isinstance(event.facts.get(fact), int)
