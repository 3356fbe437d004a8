"""The colour plan of a blanket: its palette, its rules, and what comes of them."""

from collections.abc import Mapping
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from accounts.access import may, require
from accounts.models import Member, Role
from accounts.pages.signed_in import SignedInRequest
from drives import measures
from drives.access import blanket_for
from drives.actions.colours.plans import plan_colours, set_palette, spend_plan
from drives.actions.colours.refusals import no_lot_plan
from drives.craft.colours.plan import Coloured, SearchGaveUp
from drives.craft.places import Place
from drives.models import Blanket
from drives.pages.colours.form import (
    PREFIX,
    PaletteForms,
    WishForm,
    colours_asked,
    edited_data,
    form_data,
)
from drives.pages.colours.rows import colour_map, colour_rows, without
from drives.readings.checks import colour_checks
from drives.readings.colour_counts import hard_to_tell
from drives.readings.colour_help import helps
from drives.readings.colour_plans import ColoursWanted, Draft, PlanAnswer, colours_wanted, draft
from drives.readings.lot_plans import lot_plan
from drives.readings.stock import Stock, stock
from drives.words.colours import colours_alike, reason_words
from shared.pages.methods import require_methods

PLAN, NOTE, LOOK = "plan", "note", "look"


@require_methods("GET", "POST")
@login_required
def colours_page(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """What the colours are; whoever looks after the blanket can make another plan."""
    blanket, me = blanket_for(request.user, blanket_id)
    if request.method != "POST":
        return _page(request, blanket, me, form_data(colours_wanted(blanket)), "")
    require(me, Role.COORDINATOR)
    do = request.POST.get("do", LOOK)
    stocks = stock(blanket.drive.circle)
    sent = edited_data(request.POST.dict(), stocks)
    if do in (PLAN, NOTE):
        hues, wish = _forms(sent, stocks, blanket)
        if hues.is_valid() and wish.is_valid() and hues.forms:
            asked = colours_asked(hues, wish)
            done = wish.carry_out(lambda: _stored(blanket, me, asked, do))
            if done:
                messages.success(request, done.result)
                return redirect("drives:colours", blanket_id)
    return _page(request, blanket, me, sent, do)


def _stored(blanket: Blanket, me: Member, asked: ColoursWanted, do: str) -> str:
    """Carry it out; what to say then."""
    now = timezone.now()
    if do == NOTE:
        set_palette(blanket=blanket, by=me, wanted=asked, now=now)
        return _("Noted. No square has changed.")
    changed = plan_colours(blanket=blanket, by=me, wanted=asked, now=now)
    text = ngettext(
        "The plan is made: %(count)d square changed.",
        "The plan is made: %(count)d squares changed.",
        len(changed),
    )
    return text % {"count": len(changed)}


def _page(
    request: SignedInRequest, blanket: Blanket, me: Member, sent: dict[str, Any], do: str
) -> HttpResponse:
    """``do`` is the button that was pressed: to look or to plan shows what would come of it."""
    making = draft(blanket, colours_wanted(blanket))
    now = making.colours
    hues, wish = _forms(sent, making.stocks, blanket)
    asking = do in (LOOK, PLAN, NOTE)
    right = hues.is_valid() and wish.is_valid()
    asked = making.wanting(colours_asked(hues, wish)) if right else making
    searched = right and hues.forms and do in (LOOK, PLAN)
    if searched:
        spend_plan(me, timezone.now())
    found = asked.answer() if searched else None
    then = now | found.colours if isinstance(found, Coloured) else now
    unplaced = lot_plan(asked, then).unplaced if isinstance(found, Coloured) else []
    seen = asked if isinstance(found, Coloured) else making
    used = {form["name"].value() for form in hues.forms} | set(then.values())
    against = colour_checks([blanket.drive], used | making.stocks.keys())
    facts = {
        "blanket": blanket,
        "drive": blanket.drive,
        "me": me,
        "looks_after": may(me, Role.COORDINATOR),
        "hues": hues,
        "rows": _rows(hues, asked),
        "wish": wish,
        "asking": asking,
        "bare": asking and not hues.forms,
        "store": _store(making, hues),
        "checks": [check for (_drive, name), of in against.items() if name in used for check in of],
        "refused": [
            check
            for (_drive, name), of in against.items()
            if name not in used
            for check in of
            if check.overruled is None
        ],
        "preview": isinstance(found, Coloured) and not unplaced,
        "unplaced": no_lot_plan(unplaced).detail if unplaced else "",
        "changes": sum(now.get(place) != name for place, name in then.items()),
        "lines": colour_rows(seen, then),
        "map": colour_map(seen, then, title=_title(blanket)) if then else "",
        "before": _before(making, now) if then != now and now else "",
        "without": without(making, then),
        "kept": len(making.kept),
        "alike": [
            colours_alike(pair.one, pair.other, pair.differences) for pair in hard_to_tell(asked)
        ],
        "unknown": ", ".join(asked.unknown),
        **_refusal(asked, found),
    }
    wrong = asking and not (right and hues.forms)
    status = 422 if wrong else 409 if found and do == PLAN and not facts["preview"] else 200
    return render(request, "drives/colours/colours.html", facts, status=status)


def _forms(
    sent: dict[str, Any], stocks: Mapping[str, Stock], blanket: Blanket
) -> tuple[Any, WishForm]:
    hues = PaletteForms(sent, prefix=PREFIX, form_kwargs={"stocks": stocks})
    return hues, WishForm(sent, seams=bool(blanket.seams))


def _refusal(asked: Draft, found: PlanAnswer | None) -> dict[str, object]:
    """Why there is no plan, and what would help."""
    if found is None or isinstance(found, Coloured):
        return {}
    if isinstance(found, SearchGaveUp):
        return {"gave_up": True, "helps": list(helps(asked).values())}
    return {"reasons": list(map(reason_words, found.reasons)), "helps": list(helps(asked).values())}


def _rows(hues: Any, asked: Draft) -> list[dict[str, object]]:
    """Each row of the palette with what there is of its colour."""
    units = asked.blanket.drive.circle.units
    rows = []
    for form in hues.forms:
        name = form["name"].value()
        rows.append(
            {
                "form": form,
                "own": bool(form["own"].value()),
                "name": name,
                "value": form["value"].value(),
                "there": measures.weighed(round(asked.grams[name]), units)
                if name in asked.grams
                else "",
                "suffices_for": asked.rooms.get(name),
            }
        )
    return rows


def _store(making: Draft, hues: Any) -> list[tuple[str, str, str]]:
    """What can be added: its name, how it looks, and what there is."""
    units = making.blanket.drive.circle.units
    there = {form["name"].value() for form in hues.forms}
    return [
        (name, each.yarns[0].value, measures.weighed(round(making.grams[name]), units))
        for name, each in making.stocks.items()
        if name not in there
    ]


def _before(making: Draft, now: dict[Place, str]) -> str:
    return colour_map(making, now, title=_("As it is now"), prefix="before")


def _title(blanket: Blanket) -> str:
    return _("The yarns of %(blanket)s") % {"blanket": blanket.name}
