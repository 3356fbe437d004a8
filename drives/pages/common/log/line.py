"""An event in words."""

from collections.abc import Iterable, Mapping
from datetime import date
from functools import partial
from typing import Any, NamedTuple

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from accounts.models import Event, Member, Role
from drives import measures
from drives.craft.places import Place
from drives.craft.receivers.conflicts import Conflict, ConflictCode
from drives.pages.common.square_words import ready_now
from drives.sheets.kinds import PRINTED
from drives.words import conflicts
from shared.lists import listed

from .blankets import of_blanket
from .circles import of_circle
from .drives import of_drive
from .pieces import of_piece
from .squares import of_square
from .yarn import of_yarn

DAYS = {"due": "MONTH_DAY_FORMAT", "told_on": "LONG_DATE_FORMAT", "day": "LONG_DATE_FORMAT"}


class LogLine(NamedTuple):
    """``about``: which drive or blanket, where the page does not tell; ``address``: its page."""

    event: Event
    words: str
    about: str = ""
    address: str = ""


def log_lines(events: Iterable[Event]) -> list[LogLine]:
    """The events, each with who did it and its circle, in words; one query where others are named.

    In the log of a circle people are named by their ids.
    """
    told = list(events)
    named = {event.facts["member"] for event in told if _names_by_id(event)}
    names = dict(Member.objects.filter(pk__in=named).values_list("pk", "name")) if named else {}
    return [LogLine(event, event_line(event, names)) for event in told]


def event_line(event: Event, names: Mapping[int, str] | None = None) -> str:
    """One line of the log, without its date. ``names`` of members by their ids."""
    facts, own = _told(event, names or {})
    verb = event.verb
    told = (
        of_square(verb, facts, own=own)
        or of_blanket(verb, facts)
        or of_piece(verb, own=own)
        or of_drive(verb, confirmed=bool(facts.get("told_by")))
        or of_yarn(verb, own=own or not facts.get("member"))
        or of_circle(verb, facts, own=own)
    )
    if not told:
        return f"{facts['by']}: {verb}"
    ready = [Place.parse(name) for name in facts.get("ready", ())]
    return " ".join(filter(None, (told % facts, ready_now(ready), _joined(facts))))


def _told(event: Event, names: Mapping[int, str]) -> tuple[dict[str, Any], bool]:
    """The facts as sentences say them, and whether who acted did so for themselves."""
    facts: dict[str, Any] = dict(event.facts)
    facts["by"] = event.by.name if event.by else _("The site")
    if _names_by_id(event):
        own = facts["member"] == event.by_id
        facts["member"] = names.get(facts["member"]) or facts.get("name") or _("somebody")
    else:
        own = event.by is None or facts.get("member") == facts["by"]
    for name, form in DAYS.items():
        if facts.get(name):
            facts[name] = date_format(date.fromisoformat(facts[name]), form)
    if isinstance(facts.get("colours"), list):
        facts["colours"] = listed(facts["colours"])
    match event.verb:
        case "piece-lost":
            facts["squares"] = listed([Place.parse(name) for name in facts["squares"]])
        case "measured" if not facts["place"]:
            facts["place"] = _("a swatch")
        case "overruled" | "upheld":
            facts["conflict"] = _conflict(facts, event.circle.units)
        case "roles-changed":
            facts["roles"] = listed([Role(role).label for role in Role if role in facts["to"]])
        case "sheet-requested":
            kind = PRINTED.get(facts["kind"])
            facts["document"] = kind.label if kind else facts["kind"]
    return facts, own


def _names_by_id(event: Event) -> bool:
    return isinstance(event.facts.get("member"), int)


def _conflict(facts: dict[str, Any], units: str) -> str:
    """What went against the rules; in old events perhaps no more than what was ``said`` then."""
    if said := facts.get("said"):
        return str(said)
    conflict = Conflict(ConflictCode(facts["code"]), facts["facts"], facts["about"])
    return conflicts.detail(conflict, partial(measures.length, units=units))


def _joined(facts: dict[str, Any]) -> str:
    """Which pieces became one, or fell apart."""
    if merged := facts.get("merged"):
        told = _("It joins the pieces %(others)s: together they are piece %(piece)s.")
        others = listed([Place.parse(name) for name in (facts["piece"], *merged)])
        return told % {"piece": facts["piece"], "others": others}
    if split := facts.get("split"):
        told = _("What hung on it is now in pieces of its own: %(pieces)s.")
        return told % {"pieces": listed([Place.parse(name) for name in split])}
    return ""
