"""Sentences about what happens to squares."""

from datetime import date
from functools import partial
from typing import Any

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from accounts.models import Event
from drives import measures
from drives.craft.layout.states import Offer
from drives.craft.places import Place
from drives.craft.receivers.conflicts import Conflict, ConflictCode
from drives.words import conflicts
from shared.lists import listed


def reasons(offer: Offer) -> list[str]:
    """What speaks for beginning with this square."""
    told = []
    if offer.frees:
        facts = {"places": listed(offer.frees)}
        told.append(_("As soon as it is finished, %(places)s can be begun.") % facts)
    waiting = offer.chain - 1
    if waiting:
        told.append(
            ngettext(
                "%(count)d square waits for it.",
                "%(count)d squares, one after the other, wait for it.",
                waiting,
            )
            % {"count": waiting}
        )
    return told or [_("Nothing waits for it: knit it whenever it suits.")]


def elsewhere(holder: str, *, in_line: bool) -> str:
    """What taking a square means whose piece ``holder`` has, or has meant already."""
    if in_line:
        return _("Its piece is with %(name)s; you are in line for it.") % {"name": holder}
    return _("Its piece is with %(name)s; taking it puts you in line.") % {"name": holder}


def ready_now(places: list[Place] | tuple[Place, ...]) -> str:
    """Which squares became ready; empty when none did."""
    return _("Ready now: %(places)s.") % {"places": listed(places)} if places else ""


def event_line(event: Event) -> str:
    """One line of the log, without its date."""
    facts: dict[str, Any] = dict(event.facts)
    facts["by"] = event.by.name if event.by else _("The site")
    if "squares" in facts and event.verb == "piece-lost":
        facts["squares"] = listed([Place.parse(name) for name in facts["squares"]])
    if isinstance(facts.get("colours"), list):
        facts["colours"] = listed(facts["colours"])
    if "due" in facts:
        facts["due"] = date_format(date.fromisoformat(facts["due"]), "MONTH_DAY_FORMAT")
    if facts.get("told_on"):
        facts["told_on"] = date_format(date.fromisoformat(facts["told_on"]), "LONG_DATE_FORMAT")
    acted = event.by is None or facts.get("member") == facts["by"]
    if event.verb == "measured" and not facts["place"]:
        facts["place"] = _("a swatch")
    if event.verb in ("overruled", "upheld"):
        facts["conflict"] = _conflict(facts, event.circle.units)
    told = (_of_own_square if acted else _of_others_square)(event.verb, facts)
    told = told or _of_blanket(event.verb, facts) or _of_piece(event.verb, of_own=acted)
    told = told or _of_rules(event.verb, confirmed=bool(facts.get("told_by")))
    told = told or _of_yarn(event.verb, of_own=acted or not facts.get("member"))
    if not told:
        return f"{facts['by']}: {event.verb}"
    ready = [Place.parse(name) for name in facts.get("ready", ())]
    return " ".join(filter(None, (told % facts, ready_now(ready), _joined(facts))))


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


def _of_own_square(verb: str, facts: dict[str, Any]) -> str:
    """What a knitter, or the site by the clock, did with a square."""
    match verb:
        case "claimed":
            return _("%(by)s took %(place)s, until %(due)s.")
        case "given-back":
            return _("%(by)s gave %(place)s back.")
        case "finished":
            return _("%(by)s finished %(place)s.")
        case "extended":
            return _("%(by)s moved the date of %(place)s to %(due)s.")
        case "released":
            return _("%(place)s was taken out of %(member)s’s hands.")
        case "lapsed":
            return _("%(place)s lapsed: %(member)s’s days of grace were over.")
        case "reminded":
            return _("%(by)s reminded %(member)s of %(place)s.")
        case "weighed":
            return _("%(by)s weighed %(place)s: %(grams)s g.")
        case "measured":
            return _("%(by)s measured %(place)s.")
        case "colour-chosen":
            return ngettext(
                "%(by)s chose %(colour)s for %(place)s; %(changed)s other square changed.",
                "%(by)s chose %(colour)s for %(place)s; %(changed)s other squares changed.",
                facts["changed"],
            )
    return ""


def _of_others_square(verb: str, facts: dict[str, Any]) -> str:
    """What somebody did with a square in another's hands."""
    match verb:
        case "claimed":
            return _("%(by)s gave %(place)s to %(member)s, until %(due)s.")
        case "given-back":
            return _("%(by)s took %(place)s back from %(member)s.")
        case "finished":
            return _("%(member)s finished %(place)s; %(by)s noted it.")
        case "extended":
            return _("%(by)s gave %(member)s until %(due)s for %(place)s.")
        case "released":
            return _("%(by)s took %(place)s out of %(member)s’s hands.")
        case "weighed":
            return _("%(by)s noted that %(member)s’s %(place)s weighs %(grams)s g.")
        case "measured":
            return _("%(by)s measured %(place)s for %(member)s.")
        case "colour-chosen":
            return ngettext(
                "%(by)s chose %(colour)s for %(member)s’s %(place)s; "
                "%(changed)s other square changed.",
                "%(by)s chose %(colour)s for %(member)s’s %(place)s; "
                "%(changed)s other squares changed.",
                facts["changed"],
            )
    return ""


def _of_blanket(verb: str, facts: dict[str, Any]) -> str:
    """What somebody did with the blanket itself."""
    match verb:
        case "planned":
            return ngettext(
                "%(by)s planned the blanket: %(squares)s square.",
                "%(by)s planned the blanket: %(squares)s squares.",
                facts["squares"],
            )
        case "layout-changed":
            return _("%(by)s changed the layout.")
        case "ripped-back":
            return _("%(by)s ripped %(place)s back.")
        case "coloured":
            return ngettext(
                "%(by)s chose the yarn for %(squares)s square.",
                "%(by)s chose the yarn for %(squares)s squares.",
                facts["squares"],
            )
        case "colours-planned":
            return ngettext(
                "%(by)s made a plan for the yarns: %(squares)s square changed.",
                "%(by)s made a plan for the yarns: %(squares)s squares changed.",
                facts["squares"],
            )
        case "palette-set":
            return _("%(by)s noted the yarns: %(colours)s.")
        case "codes-renewed":
            return ngettext(
                "%(by)s renewed a code on paper: what was printed before leads nowhere now.",
                "%(by)s renewed codes on paper: %(codes)s printed before lead nowhere now.",
                facts["codes"],
            )
        case "gift-described":
            return _("%(by)s wrote down what the receiver is told.")
        case "note-left":
            return _("A finder left a message about %(of)s.")
        case "note-read":
            return _("%(by)s saw to a finder’s message about %(of)s.")
    return ""


def _of_piece(verb: str, *, of_own: bool) -> str:
    """What somebody did with a piece."""
    match verb:
        case "asked-for-piece" if of_own:
            return _("%(by)s asked for piece %(piece)s.")
        case "asked-for-piece":
            return _("%(by)s put %(member)s in line for piece %(piece)s.")
        case "left-the-line" if of_own:
            return _("%(by)s no longer waits for piece %(piece)s.")
        case "left-the-line":
            return _("%(by)s took %(member)s out of the line for piece %(piece)s.")
        case "hand-over-arranged":
            return _("%(by)s arranged that piece %(piece)s goes to %(to)s.")
        case "hand-over-sent":
            return _("%(by)s: piece %(piece)s is on its way to %(to)s.")
        case "hand-over-received":
            return _("%(by)s: piece %(piece)s is with %(to)s.")
        case "hand-over-cancelled":
            return _("%(by)s cancelled the hand-over of piece %(piece)s to %(to)s.")
        case "piece-found":
            return _("%(by)s noted that piece %(piece)s is with %(member)s.")
        case "piece-lost":
            return _("%(by)s noted that piece %(piece)s is lost: %(squares)s must be knitted anew.")
    return ""


def _of_rules(verb: str, *, confirmed: bool) -> str:
    """What somebody did with the receiver's rules."""
    match verb:
        case "rules-noted" if confirmed:
            return _("%(by)s wrote the rules down as %(told_by)s told them on %(told_on)s.")
        case "rules-noted":
            return _("%(by)s wrote rules down that nobody has confirmed yet.")
        case "overruled":
            return _("%(by)s overruled: “%(conflict)s” (%(of)s). The reason: %(reason)s")
        case "upheld":
            return _("%(by)s let it count again: “%(conflict)s” (%(of)s).")
    return ""


def _of_yarn(verb: str, *, of_own: bool) -> str:
    """What somebody did with the yarn store."""
    match verb:
        case "yarn-added":
            return _("%(by)s put %(yarn)s into the store: %(grams)s g.")
        case "yarn-changed":
            return _("%(by)s changed what is known of %(yarn)s.")
        case "yarns-imported":
            return _("%(by)s brought a file of yarn: %(added)s new, %(changed)s changed.")
        case "yarn-received":
            return _("%(by)s noted that %(grams)s g of %(yarn)s came in.")
        case "yarn-handed-out":
            return _("%(by)s handed %(grams)s g of %(yarn)s out to %(member)s.")
        case "yarn-returned":
            return _("%(by)s took %(grams)s g of %(yarn)s back from %(member)s.")
        case "yarn-knitted" if of_own:
            return _("%(by)s noted that %(grams)s g of %(yarn)s are knitted up.")
        case "yarn-knitted":
            return _("%(by)s noted that %(member)s knitted %(grams)s g of %(yarn)s up.")
        case "yarn-counted" if of_own:
            return _("%(by)s counted %(yarn)s again: %(grams)s g otherwise than in the books.")
        case "yarn-counted":
            return _("%(by)s counted %(member)s’s %(yarn)s again: %(grams)s g otherwise.")
    return ""
