"""Why there is no colour plan, and which colours are hard to tell apart."""

from collections.abc import Collection, Iterator, Sequence
from typing import Any

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drives.craft.colours.palette import Help, PaletteFault
from drives.craft.colours.reasons import Reason, Why
from shared.basics.lists import either, listed

NAMED = 4  # squares that a sentence names before it counts the others


def reason_words(reason: Reason) -> str:
    """One reason in one or more sentences."""
    return " ".join(_sentences(reason.why, reason.facts))


def _sentences(why: Why, facts: dict[str, Any]) -> Iterator[str]:
    match why:
        case Why.ALIKE:
            yield _("%(one)s and %(other)s lie side by side, and both are %(colour)s.") % facts
        case Why.TOO_MANY:
            yield _at_most(facts["most"], [facts["colour"]])
            text = ngettext(
                "%(kept)d is already, which is %(over)d too many.",
                "%(kept)d are already, which is %(over)d too many.",
                facts["kept"],
            )
            yield text % facts
        case Why.NO_COLOUR:
            yield from _no_colour(facts)
        case Why.SHORT if "places" in facts:
            yield from _short(facts)
        case Why.SHORT:
            yield from _kept_short(facts)
        case Why.NO_WAY:
            yield from _no_way(facts)


def _at_most(units: int, colours: Sequence[str]) -> str:
    text = ngettext(
        "At most %(count)d square may be %(colours)s.",
        "At most %(count)d squares may be %(colours)s.",
        units,
    )
    return text % {"count": units, "colours": either(colours)}


def _enough(units: int, colours: Sequence[str]) -> str:
    text = ngettext(
        "There is enough of %(colours)s for %(count)d square.",
        "There is enough of %(colours)s for %(count)d squares.",
        units,
    )
    return text % {"count": units, "colours": listed(colours)}


def _too_few(units: int) -> str:
    text = ngettext("%(count)d square short.", "%(count)d squares short.", units)
    return text % {"count": units}


def _no_colour(facts: dict[str, Any]) -> Iterator[str]:
    yield _("No colour can be had for %(place)s.") % facts
    if facts["beside"]:
        yield _("Squares beside it are %(colours)s.") % {"colours": listed(facts["beside"])}
    if facts["barred"]:
        yield _("It may not be %(colours)s.") % {"colours": either(facts["barred"])}
    if facts["too_little"]:
        text = _("There is too little of %(colours)s.")
        yield text % {"colours": listed(facts["too_little"])}


def _short(facts: dict[str, Any]) -> Iterator[str]:
    yield _wanted(facts)
    for colour, units in facts["most"].items():
        text = _(
            "As no two squares side by side may be alike, "
            "%(colour)s can take at most %(count)d of them."
        )
        yield text % {"colour": colour, "count": units}
    if facts["colours"]:
        yield _suffice(facts)
    elif not facts["most"]:
        yield _("There are no colours.")
    yield _too_few(facts["short"])
    if facts["large"]:
        yield _("A large square counts as the squares of one unit that it covers.")


def _suffice(facts: dict[str, Any]) -> str:
    """For how many squares the colours do that are short."""
    units = facts["enough_for"]
    if facts["limited"]:
        return _at_most(units, facts["colours"])
    if not facts["together"]:
        return _enough(units, facts["colours"])
    text = ngettext(
        "All colours together are enough for %(count)d square.",
        "All colours together are enough for %(count)d squares.",
        units,
    )
    return text % {"count": units}


def _wanted(facts: dict[str, Any]) -> str:
    """Which squares have to be coloured."""
    count = {"count": facts["wanted"]}
    if facts["every"]:
        text = ngettext(
            "%(count)d square is to be coloured.",
            "%(count)d squares are to be coloured.",
            facts["wanted"],
        )
        return text % count
    names = [str(place) for place in facts["places"]]
    colours = either(facts["only"])
    if len(names) == 1:
        return _("%(place)s can only be %(colours)s.") % {"place": names[0], "colours": colours}
    if len(names) > NAMED:
        others = len(names) - NAMED + 1
        text = ngettext("%(count)d other", "%(count)d others", others)
        names[NAMED - 1 :] = [text % {"count": others}]
    text = ngettext(
        "%(places)s (%(count)d square) can only be %(colours)s.",
        "%(places)s (%(count)d squares) can only be %(colours)s.",
        facts["wanted"],
    )
    return text % (count | {"places": listed(names), "colours": colours})


def _kept_short(facts: dict[str, Any]) -> Iterator[str]:
    (colour,) = facts["colours"]
    text = ngettext(
        "%(count)d square to be knitted has %(colour)s for good.",
        "%(count)d squares to be knitted have %(colour)s for good.",
        facts["wanted"],
    )
    yield text % {"count": facts["wanted"], "colour": colour}
    yield _enough(facts["enough_for"], [colour])
    yield _too_few(facts["short"])


def _no_way(facts: dict[str, Any]) -> Iterator[str]:
    text = ngettext(
        "Every way to colour %(count)d square was ruled out, one after the other.",
        "Every way to colour %(count)d squares was ruled out, one after the other.",
        facts["squares"],
    )
    yield text % {"count": facts["squares"]}
    if "short" not in facts:
        return
    if facts["colours"]:
        text = ngettext(
            "With %(count)d square more of %(colour)s there is one.",
            "With %(count)d squares more of %(colour)s there is one.",
            facts["short"],
        )
    else:
        text = ngettext(
            "With another colour for %(count)d square there is one.",
            "With another colour for %(count)d squares there is one.",
            facts["short"],
        )
    yield text % {"count": facts["short"], "colour": "".join(facts["colours"])}


def fault_words(fault: PaletteFault, name: str) -> str:
    """What is wrong with the colour of this ``name``, and what to do."""
    match fault:
        case PaletteFault.TWICE:
            return _("This colour is there twice.")
        case PaletteFault.IN_STORE:
            return _("The store has a colour of this name: add that one.")
        case PaletteFault.NOT_IN_STORE:
            text = _("There is no “%(name)s” in the store any more: leave it out, or bring it.")
            return text % {"name": name}


def help_words(found: Help, limited: int) -> str:
    """A change with which there is a plan; ``limited``: colours with a limit to their squares."""
    match found:
        case Help.NO_MARGIN:
            return _("There is a plan with no yarn kept in reserve.")
        case Help.SEAMS_ALIKE:
            return _("There is a plan if squares with a seam between them may be alike.")
        case Help.ALIKE:
            return _("There is a plan if squares side by side may be alike.")
        case Help.NO_LIMITS:
            return ngettext(
                "There is a plan without the limit to the squares of a colour.",
                "There is a plan without the limits to the squares of a colour.",
                limited,
            )
        case Help.ONE_MORE:
            return _("There is a plan with one more colour, if there is enough of it.")


def colours_alike(one: str, other: str, sights: Collection[str]) -> str:
    """That two colours look alike to people who see so: ``usual``, ``protan``, … ``tritan``."""
    pair = {"one": f"{one[:1].upper()}{one[1:]}", "other": other}
    if "usual" in sights:
        text = _("%(one)s and %(other)s look alike to most people; give one of them a pattern.")
        return text % pair
    who = {
        "protan": _("people who see red weakly"),
        "deutan": _("people who see green weakly"),
        "tritan": _("people who see blue weakly"),
    }
    text = _("%(one)s and %(other)s look alike to %(people)s; give one of them a pattern.")
    return text % (pair | {"people": listed([who[sight] for sight in sights])})
