"""An event in words."""

from collections.abc import Iterable, Mapping
from datetime import date
from functools import partial
from typing import Any, NamedTuple

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from accounts.log import did_so_alone, people_in, told_facts
from accounts.models import Event, Role
from drives import measures
from drives.craft.places import Place
from drives.craft.receivers.conflicts import Conflict, ConflictCode
from drives.pages.common.square_words import ready_now
from drives.sheets.kinds import PRINTED
from drives.words import conflicts
from shared.basics.lists import listed

from .blankets import of_blanket
from .circles import of_circle
from .drives import of_drive
from .pieces import of_piece
from .squares import of_square
from .yarn import of_yarn

DAYS = {
    "due": "MONTH_DAY_FORMAT",
    "begin": "MONTH_DAY_FORMAT",
    "told_on": "LONG_DATE_FORMAT",
    "day": "LONG_DATE_FORMAT",
}


class LogLine(NamedTuple):
    """``about``: which drive or blanket, where the page does not tell; ``address``: its page."""

    event: Event
    words: str
    about: str = ""
    address: str = ""


def log_lines(events: Iterable[Event]) -> list[LogLine]:
    """The events, each with who did it and its circle, in words; a query if others are named."""
    told = list(events)
    names = people_in(told)
    return [LogLine(event, event_line(event, names)) for event in told]


def event_line(event: Event, names: Mapping[int, str]) -> str:
    """One line of the log, without its date. ``names`` of members by their ids."""
    facts, verb, own = _told(event, names), event.verb, did_so_alone(event)
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


def _told(event: Event, names: Mapping[int, str]) -> dict[str, Any]:
    """The facts as sentences say them."""
    facts = told_facts(event, names)
    facts["by"] = event.by.name if event.by else _("The site")
    for name, form in DAYS.items():
        if facts.get(name):
            facts[name] = date_format(date.fromisoformat(facts[name]), form)
    if isinstance(facts.get("colours"), list):
        facts["colours"] = listed(facts["colours"])
    match event.verb:
        case "piece-lost" | "rota-accepted" | "rota-taken-back":
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
    return facts


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
