"""What a forecast rests on, in sentences: what was learned, and what is assumed until then."""

from datetime import date, timedelta

from django.utils.formats import date_format
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drives.readings.foretold import Ground, Habits
from drives.words.numbers import per_cent

A_MONDAY = date(2026, 11, 2)
UNEVEN = 0.25  # a day with so great a share of the squares is told
NOTABLE = 0.1  # a first square that takes so much longer or less is told


def forecast_rests_on(ground: Ground) -> list[str]:
    """What is known, and what is assumed."""
    squares, hand_overs = ground["squares"], ground["hand_overs"]
    told = [
        ngettext(
            "%(count)d square finished by those who knit now tells their paces.",
            "%(count)d squares finished by those who knit now tell their paces.",
            squares,
        )
        % {"count": squares}
        if squares
        else _("Nobody who knits now has finished a square yet: the paces are a guess."),
        _("Whoever is in the middle takes %(days)s days for a square.")
        % {"days": f"{ground['days_a_square']:g}"},
    ]
    if ground["days_a_hand_over"] is not None:
        told.append(
            ngettext(
                "%(count)d hand-over is known so far; one is reckoned with %(days)s days.",
                "%(count)d hand-overs are known so far; one is reckoned with %(days)s days.",
                hand_overs,
            )
            % {"count": hand_overs, "days": f"{ground['days_a_hand_over']:g}"}
        )
    if habits := ground["habits"]:
        told += [_pauses(habits), *_people(habits), *_days(habits), *_assumed(habits)]
    told.append(
        _("What is assumed beforehand weighs as much as %(count)d of somebody’s own squares.")
        % {"count": ground["weight"]}
    )
    return told


def _pauses(habits: Habits) -> str:
    if not habits["rests"]:
        text = _("No pause between two squares is known yet: %(days)s days are assumed.")
        return text % {"days": f"{habits['rest']:g}"}
    return ngettext(
        "Between two squares people pause for %(days)s days; %(count)d such pause is known.",
        "Between two squares people pause for %(days)s days; %(count)d such pauses are known.",
        habits["rests"],
    ) % {"days": f"{habits['rest']:g}", "count": habits["rests"]}


def _people(habits: Habits) -> list[str]:
    people = {"people": habits["people"], "gone": f"{habits['gone']:g}"}
    told = [
        ngettext(
            "%(people)d person could knit; %(gone)s are reckoned not to.",
            "%(people)d people could knit; %(gone)s of them are reckoned not to.",
            habits["people"],
        )
        % people,
        _("After %(share)s of the squares somebody stops for good.")
        % {"share": per_cent(habits["leaving"])},
        _("%(share)s of the squares are given back or lapse.")
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


def _assumed(habits: Habits) -> list[str]:
    assumed = habits["assumed"]
    return [
        _("Until you have shown more, a square is assumed to take %(days)s days.")
        % {"days": f"{assumed['square']:g}"},
        _("Until then, a pause is assumed to last %(days)s days.")
        % {"days": f"{assumed['rest']:g}"},
        _("Until then, %(share)s of the people are assumed never to begin.")
        % {"share": per_cent(assumed["gone"])},
        _("Until then, somebody is assumed to stop after %(leaving)s of the squares.")
        % {"leaving": per_cent(assumed["leaving"])},
        _("Until then, %(share)s of the squares are assumed not to be finished.")
        % {"share": per_cent(assumed["giving_up"])},
    ]
