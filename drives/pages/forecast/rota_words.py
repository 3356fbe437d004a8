"""A rota in sentences."""

from collections.abc import Container
from typing import NamedTuple

from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from accounts.models import Member
from drives.craft.forecast.forecast import Never
from drives.readings.rota import Enough, Rota, Speed, Start
from drives.words.rota import fallen, why

from .words import day_words, kept, never


def answer(told: Rota) -> list[str]:
    """What the wanted day asks for; without one, how little can be said."""
    if told["finished"] == told["squares"]:
        return [_("All squares are finished.")]
    if told["wanted"] is None:
        return [_("This drive has no wanted day, so no square has to be begun by a certain day.")]
    wanted = day_words(told["wanted"], told["today"])
    sentences = []
    if told["never"] == Never.ALL_AWAY:
        sentences.append(never(told["never"]))
    elif told["kept"] is not None:
        sentences.append(kept(told["kept"], wanted))
    if speed := told["speed"]:
        sentences += _speed(speed, told["squares"] - told["finished"], wanted)
    return sentences


def _speed(speed: Speed, left: int, wanted: str) -> list[str]:
    weeks = round(speed["weeks"])
    facts = {"now": f"{round(speed['now'], 1):g}", "weeks": weeks}
    now = ngettext(
        "In the last week you finished %(now)s.",
        "In the last %(weeks)d weeks you finished %(now)s a week.",
        weeks,
    )
    if speed["needed"] is None:
        return [_("The wanted day, %(day)s, is over.") % {"day": wanted}, now % facts]
    needed = ngettext(
        "%(left)d square is left: that is %(needed)s a week until %(day)s.",
        "%(left)d squares are left: that is %(needed)s a week until %(day)s.",
        left,
    )
    facts |= {"left": left, "needed": f"{round(speed['needed'], 1):g}", "day": wanted}
    return [needed % facts, now % facts]


def enough(told: Enough) -> list[str]:
    """How many knitters are enough, beside how many there are."""
    half, sure, most = told["half"], told["sure"], told["most"]
    if half is None:
        sentence = _("More hands alone will not do: even %(most)d knitters would probably miss it.")
        return [sentence % {"most": most}]
    sentences = [
        ngettext(
            "For a chance of 50 %%, %(count)d knitter is enough.",
            "For a chance of 50 %%, %(count)d knitters are enough.",
            half,
        )
        % {"count": half}
    ]
    if sure is None:
        sentences.append(
            _("For a chance of 90 %%, even %(most)d knitters are not enough.") % {"most": most}
        )
    else:
        sentence = ngettext(
            "For a chance of 90 %%, %(count)d knitter is enough.",
            "For a chance of 90 %%, %(count)d knitters are enough.",
            sure,
        )
        sentences.append(sentence % {"count": sure})
    now = ngettext("Now %(count)d knits.", "Now %(count)d knit.", told["now"])
    return [*sentences, now % {"count": told["now"]}]


class Begins(NamedTuple):
    """A square that somebody begins; ``mine``: it is the reader's.

    ``to_take``: it can be taken for them now, by whoever may; ``to_change``: so can what is said
    about it. ``accepted``: a coordinator has accepted it so; ``day`` is when it begins, as forms
    have it.
    """

    member: int
    name: str
    place: str
    begin: str
    end: str
    giver: str
    why: str
    mine: bool
    to_take: bool
    to_change: bool
    accepted: bool
    day: str


def begin_columns() -> dict[str, str]:
    return {
        "who": _("Who"),
        "square": _("Square"),
        "begin": _("From"),
        "end": _("Until about"),
        "why": _("Why"),
    }


class FellAway(NamedTuple):
    """Why something is no longer planned; ``place``: of which square."""

    place: str
    sentence: str


def fallen_away(told: Rota) -> list[FellAway]:
    return [
        FellAway(each["place"], fallen(each["why"], each["name"], each["place"]))
        for each in told["fallen"]
    ]


def begins(told: Rota, me: Member, ready: Container[str], opened: Container[str]) -> list[Begins]:
    """By knitter, whoever begins first first.

    ``ready``: what the reader may take for others; ``opened``: what they may plan for others.
    """
    assigned = told["assigned"]
    first = {each["member"]: each["begin"] for each in reversed(assigned)}
    in_order = sorted(assigned, key=lambda each: (first[each["member"]], each["member"]))
    return [
        Begins(
            member=each["member"],
            name=each["name"],
            place=each["place"],
            begin=day_words(each["begin"], told["today"]),
            end=day_words(each["end"], told["today"]),
            giver=each["giver"] or "",
            why=why(each["why"], each["waiting"]),
            mine=each["member"] == me.pk,
            to_take=each["place"] in ready,
            to_change=each["place"] in opened,
            accepted=bool(each["accepted"]),
            day=each["begin"],
        )
        for each in in_order
    ]


class Line(NamedTuple):
    """One square of the table; ``short``: it must be begun sooner than it will be."""

    place: str
    expected: str
    half: str
    sure: str
    slack: str
    short: bool


def start_columns() -> dict[str, str]:
    return {
        "square": _("Square"),
        "expected": _("Will be begun about"),
        "half": _("At the latest, for 50 %%") % {},
        "sure": _("At the latest, for 90 %%") % {},
        "slack": _("Time to spare"),
    }


def lines(told: Rota) -> list[Line]:
    return [_line(each, told["today"]) for each in told["starts"]]


def _line(start: Start, today: str) -> Line:
    slack = start["slack"]
    return Line(
        place=start["place"],
        expected=day_words(start["expected"], today),
        half=_by(start["half"], today),
        sure=_by(start["sure"], today),
        slack=_slack(slack),
        short=slack is None or slack < 0,
    )


def _by(iso: str | None, today: str) -> str:
    if iso is None or iso < today:
        return _("already too late")
    return day_words(iso, today)


def _slack(days: int | None) -> str:
    if days is None:
        return _("none")
    if days < 0:
        short = ngettext("%(days)d day short", "%(days)d days short", -days)
        return short % {"days": -days}
    return ngettext("%(days)d day", "%(days)d days", days) % {"days": days}
