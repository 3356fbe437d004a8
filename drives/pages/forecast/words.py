"""A forecast in sentences."""

from collections import defaultdict
from datetime import date

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drives import measures
from drives.craft.forecast.causes import Cause
from drives.craft.forecast.forecast import Never
from drives.craft.forecast.passing import Passing
from drives.readings.foretold import Dates, Foretold, HeldBack
from drives.words.numbers import per_cent

MOST_HELD_BACK = 5


def day_words(iso: str | None, today: str) -> str:
    """A date as it is told; with its year where that is not today's."""
    if iso is None:
        return _("never")
    same_year = iso[:4] == today[:4]
    return date_format(
        date.fromisoformat(iso), "MONTH_DAY_FORMAT" if same_year else "LONG_DATE_FORMAT"
    )


def short_day(iso: str, today: str) -> str:
    """The same where there is little room."""
    return date_format(
        date.fromisoformat(iso), "SHORT_MONTH_DAY_FORMAT" if iso[:4] == today[:4] else "DATE_FORMAT"
    )


def answer(told: Foretold) -> list[str]:
    """When it is done; the wanted day stands in a sentence of its own."""
    if told["finished"] == told["squares"]:
        return [_("All squares are finished.")]
    if told["never"]:
        return [never(told["never"])]
    dates, today = told["dates"], told["today"]
    facts = {"half": day_words(dates["half"], today), "sure": day_words(dates["sure"], today)}
    sentences = [_("It will be finished by %(half)s with 50 %%, by %(sure)s with 90 %%.") % facts]
    if dates["kept"] is not None:
        sentences.append(kept(dates["kept"], day_words(told["wanted"], today)))
    return sentences


def never(why: str) -> str:
    if why == Never.NO_KNITTERS:
        return _("Nobody in the circle knits yet, so we cannot name a day.")
    return _("Those who are needed are away for good, so we cannot name a day.")


def kept(share: float, wanted: str) -> str:
    """How likely the wanted day is."""
    if share == 0:
        return _("The wanted day, %(day)s, cannot be kept as things stand.") % {"day": wanted}
    if share == 1:
        return _("The wanted day, %(day)s, is as good as certain to be kept.") % {"day": wanted}
    facts = {"day": wanted, "share": per_cent(share)}
    return _("There is a chance of %(share)s that the wanted day, %(day)s, is kept.") % facts


def in_short(told: Foretold, today: date) -> str:
    """One line for the board; empty when there is nothing to say."""
    half, then = told["dates"]["half"], told["today"]
    if told["finished"] == told["squares"] or half is None:
        return ""
    facts = {"day": day_words(half, then), "then": day_words(then, today.isoformat())}
    if then == today.isoformat():
        return _("Done by about %(day)s") % facts
    return _("Done by about %(day)s, as it stood on %(then)s") % facts


def held_back(told: Foretold, named: bool) -> list[str]:
    """What the last chains of squares waited for, the most first; ``named``: by whose pace too."""
    shares = defaultdict[str, float](float)
    for each in told["held_back"]:  # unnamed, two people are one cause
        shares[_cause(each, named)] += each["share"]
    return [
        _("%(what)s (%(share)s)") % {"what": cause, "share": per_cent(share)}
        for cause, share in sorted(shares.items(), key=lambda item: -item[1])[:MOST_HELD_BACK]
    ]


def _cause(held: HeldBack, named: bool) -> str:
    match held["cause"]:
        case Cause.ORDER:
            return _("The order of the work: squares wait for those that they join onto.")
        case Cause.PIECE:
            text = _("Piece %(piece)s: others work on it while somebody has nothing to do.")
            return text % {"piece": held["piece"]}
        case Cause.PEOPLE:
            return _("Hands: squares could be begun, and nobody is free.")
        case Cause.REST:
            return _("Pauses: squares could be begun, and people rest between two of them.")
        case Cause.ELSEWHERE:
            return _("Other blankets: the same people knit those at the same time.")
        case Cause.HAND_OVER:
            return _("Hand-overs: a piece is on its way, or waits for the next meeting.")
    if not named:
        return _("Some squares take longer than most, or somebody is away.")
    if held["away"]:
        return _("%(name)s is away for some days, or needs more days for a square than others.") % {
            "name": held["member"]
        }
    return _("%(name)s needs more days for a square than others.") % {"name": held["member"]}


def changes(told: Foretold, units: str) -> list[str]:
    """What one more volunteer, and one more panel, would change."""
    sentences = []
    if volunteer := told["volunteer"]:
        change = {"change": _change(told, volunteer), "name": volunteer["kept_by"]}
        text = (
            _("One more volunteer, if the piece stays with %(name)s: %(change)s")
            if volunteer["kept_by"]
            else _("One more volunteer, as quick as most: %(change)s")
        )
        sentences.append(text % change)
    if panel := told["panel"]:
        facts = {
            "panels": panel["panels"],
            "sewing": measures.length(panel["sewing"], units),
            "change": _change(told, panel),
        }
        match panel["along"]:
            case "columns":
                text = _(
                    "Cut into %(panels)d panels along the columns, "
                    "%(sewing)s to be sewn: %(change)s"
                )
            case "rows":
                text = _(
                    "Cut into %(panels)d panels along the rows, %(sewing)s to be sewn: %(change)s"
                )
            case _other:
                text = _("Cut into %(panels)d panels, %(sewing)s to be sewn: %(change)s")
        sentences.append(text % facts)
    return sentences + passing(told)


def passing(told: Foretold) -> list[str]:
    """Whether pieces are passed on in the soonest way, and what the others would change."""
    sentences = []
    for place, way in enumerate(told["passing"]):
        if not way["now"]:
            sentences.append(_way(way["passing"]) % {"change": _change(told, way)})
        elif place == 0:
            sentences.append(_("The way in which you pass pieces on is the soonest."))
    return sentences


def _way(passing: str) -> str:
    match passing:
        case Passing.AFTER_EACH:
            return _(
                "If a piece is passed on after each square for which somebody waits: %(change)s"
            )
        case Passing.KEEP:
            return _("If a piece stays with one person until it offers nothing more: %(change)s")
    return _("If pieces are passed on only when you meet: %(change)s")


def _change(told: Foretold, other: Dates) -> str:
    """The dates of ``other``, and by how many days the surer one differs."""
    sure, before = other["sure"], told["dates"]["sure"]
    if sure is None:
        return _("we still cannot name a day.")
    facts = {
        "half": day_words(other["half"], told["today"]),
        "sure": day_words(sure, told["today"]),
    }
    if before is None:
        return _("by %(half)s with 50 %%, by %(sure)s with 90 %%.") % facts
    days = (date.fromisoformat(before) - date.fromisoformat(sure)).days
    if days > 0:
        text = ngettext(
            "by %(half)s with 50 %%, by %(sure)s with 90 %%; %(days)d day sooner.",
            "by %(half)s with 50 %%, by %(sure)s with 90 %%; %(days)d days sooner.",
            days,
        )
    elif days < 0:
        text = ngettext(
            "by %(half)s with 50 %%, by %(sure)s with 90 %%; %(days)d day later.",
            "by %(half)s with 50 %%, by %(sure)s with 90 %%; %(days)d days later.",
            -days,
        )
    else:
        text = _("by %(half)s with 50 %%, by %(sure)s with 90 %%; that changes nothing.")
    return text % (facts | {"days": abs(days)})
