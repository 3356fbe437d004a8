"""What a forecast rests on, in sentences: what was learned, and what is assumed until then."""

from datetime import date, timedelta
from math import ceil, exp

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drives.craft.forecast.draws import START
from drives.craft.forecast.pace import SQUARE
from drives.readings.foretold import Ground, Habits
from drives.words.numbers import per_cent

A_MONDAY = date(2026, 11, 2)
UNEVEN = 0.25  # a day with so great a share of the squares is told
NOTABLE = 0.1  # a first square that takes so much longer or less is told


def learned(ground: Ground) -> list[str]:
    """What the circle has shown so far."""
    squares, hand_overs = ground["squares"], ground["hand_overs"]
    told = [
        ngettext(
            "%(count)d square, finished by the people who knit now, shows how fast they knit.",
            "%(count)d squares, finished by the people who knit now, show how fast they knit.",
            squares,
        )
        % {"count": squares}
        if squares
        else _("Nobody who knits now has finished a square yet, so the paces are a guess."),
        _("The person in the middle takes %(days)s days for a square.")
        % {"days": f"{ground['days_a_square']:g}"},
    ]
    if ground["days_a_hand_over"] is not None:
        told.append(
            ngettext(
                "A hand-over takes about %(days)s days, going by %(count)d so far.",
                "A hand-over takes about %(days)s days, going by %(count)d so far.",
                hand_overs,
            )
            % {"count": hand_overs, "days": f"{ground['days_a_hand_over']:g}"}
        )
    if habits := ground["habits"]:
        told += [_pauses(habits), *_people(habits), *_days(habits)]
    return told


def _pauses(habits: Habits) -> str:
    if not habits["rests"]:
        text = _("Nobody has paused between two squares yet; we assume %(days)s days.")
        return text % {"days": f"{habits['rest']:g}"}
    return ngettext(
        "People pause for %(days)s days between squares, going by %(count)d pause so far.",
        "People pause for %(days)s days between squares, going by %(count)d pauses so far.",
        habits["rests"],
    ) % {"days": f"{habits['rest']:g}", "count": habits["rests"]}


def _people(habits: Habits) -> list[str]:
    people = {"people": habits["people"], "gone": f"{habits['gone']:g}"}
    told = [
        ngettext(
            "%(people)d person could knit; about %(gone)s may not.",
            "%(people)d people could knit; about %(gone)s of them may not.",
            habits["people"],
        )
        % people,
        _("After %(share)s of squares, somebody stops for good.")
        % {"share": per_cent(habits["leaving"])},
        _("%(share)s of squares are given back or lapse.")
        % {"share": per_cent(habits["giving_up"])},
    ]
    if habits["others"]:
        told.append(
            ngettext(
                "%(count)d other blanket of the circle waits for the same hands.",
                "%(count)d other blankets of the circle wait for the same hands.",
                habits["others"],
            )
            % {"count": habits["others"]}
        )
    return told


def _days(habits: Habits) -> list[str]:
    told = []
    if abs(habits["first"] - 1) >= NOTABLE:
        text = _("A first square takes %(times)s times as long as later ones.")
        told.append(text % {"times": f"{habits['first']:g}"})
    if habits["week"] is None:
        told.append(_("Squares are only taken and brought when you meet."))
    else:
        for number, share in enumerate(habits["week"]):
            if share >= UNEVEN:
                day = date_format(A_MONDAY + timedelta(days=number), "l")
                text = _("On %(day)s, %(share)s of the squares are finished.")
                told.append(text % {"day": day, "share": per_cent(share)})
    return told


def assumed(ground: Ground) -> list[str]:
    """What is taken for true until the circle has shown what it does."""
    if not (habits := ground["habits"]):
        return []
    guess = habits["assumed"]
    even = exp(SQUARE.within)  # two in three lie within this
    start = ngettext(
        "People take their first square after %(days)s day.",
        "People take their first square after %(days)s days.",
        ceil(START.mean),
    )
    return [
        _("A square takes %(days)s days.") % {"days": f"{guess['square']:g}"},
        _("Most squares take %(low)s to %(high)s times as long as their knitter’s usual one.")
        % {"low": f"{1 / even:.1f}", "high": f"{even:.1f}"},
        _("Where those times vary more, more people are expected to stop."),
        start % {"days": f"{START.mean:g}"},
        _("People pause for %(days)s days between squares.") % {"days": f"{guess['rest']:g}"},
        _("Of the people who could knit, %(share)s never begin.")
        % {"share": per_cent(guess["gone"])},
        _("After %(share)s of squares, somebody stops for good.")
        % {"share": per_cent(guess["leaving"])},
        _("%(share)s of squares are given back or lapse.")
        % {"share": per_cent(guess["giving_up"])},
        _("Of the people who give a square up, %(share)s take no other.")
        % {"share": per_cent(guess["stopping"])},
        ngettext(
            "These guesses count for as much as %(count)d square of each person’s own.",
            "These guesses count for as much as %(count)d squares of each person’s own.",
            int(ground["weight"]),
        )
        % {"count": ground["weight"]},
    ]
