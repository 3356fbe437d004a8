"""When will the blanket be done: in words, as a picture, as a table."""

from datetime import date

from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _

from accounts.access import may
from accounts.models import Role
from accounts.pages.signed_in import SignedInRequest
from drives.drawing.forecast import Expected, ForecastWords, Reached, forecast_svg, sign_svg
from drives.pages.common.svg import drawn
from drives.pages.forecast import words
from drives.pages.forecast.asking import shown
from drives.pages.forecast.rests_on import assumed, learned
from drives.readings.foretold import Foretold, read_foretold
from drives.sheets.kinds import FORECAST
from shared.pages.methods import require_methods

ROWS = 12  # of the table of the days ahead, at most


@require_methods("GET", "POST")
@login_required
def forecast_page(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """The forecast that was made last, and whether it is still true; a POST asks for a new one."""
    there = shown(
        request, FORECAST, "drives:forecast", blanket_id, _("When will %(blanket)s be done?")
    )
    if isinstance(there, HttpResponse):
        return there
    told: Foretold = read_foretold(there.made)
    blanket = there.blanket
    facts = there.facts | {
        "told": told,
        "answer": words.answer(told),
        "held_back": words.held_back(told, may(there.me, Role.COORDINATOR)),
        "changes": words.changes(told, blanket.drive.circle.units),
        "learned": learned(told["rests_on"]),
        "assumed": assumed(told["rests_on"]),
        "picture": _picture(told, blanket.name),
        "signs": _signs(told),
        "so_far": [(date.fromisoformat(each["day"]), each["finished"]) for each in told["so_far"]],
        "ahead": [
            (date.fromisoformat(each["day"]), each["low"], each["middle"], each["high"])
            for each in told["ahead"][:: -(-len(told["ahead"]) // ROWS) or 1]
        ],
    }
    return render(request, "drives/forecast/forecast.html", facts)


def _picture(told: Foretold, name: str) -> SafeString:
    """Progress over time; its description says what the sentences beside it say."""
    today, wanted = told["today"], told["wanted"]
    named = [today, told["dates"]["sure"], told["so_far"][0]["day"], wanted]
    svg = forecast_svg(
        [Reached(date.fromisoformat(each["day"]), each["finished"]) for each in told["so_far"]],
        [
            Expected(date.fromisoformat(each["day"]), each["low"], each["middle"], each["high"])
            for each in told["ahead"]
        ],
        squares=told["squares"],
        wanted=date.fromisoformat(wanted) if wanted else None,
        day_names={
            date.fromisoformat(each): words.short_day(each, today) for each in named if each
        },
        words=ForecastWords(
            title=_("Finished squares of %(blanket)s over time") % {"blanket": name},
            description=" ".join(words.answer(told)),
            today=_("today"),
            wanted=_("wanted"),
        ),
    )
    return drawn(svg)


def _signs(told: Foretold) -> list[tuple[str, SafeString]]:
    """The lines of the picture in words."""
    meanings = {"so-far": _("finished so far")}
    if told["ahead"]:
        meanings["middle"] = _("expected: as likely to be sooner as later")
        meanings["band"] = _("where it will be eight times out of ten")
    if told["wanted"]:
        meanings["wanted"] = _("the wanted day")
    return [(text, drawn(sign_svg(key))) for key, text in meanings.items()]
