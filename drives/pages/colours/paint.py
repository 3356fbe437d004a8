"""Painting squares by hand: a colour, and the places that get it, typed or pressed on the map."""

import re
from collections import Counter
from collections.abc import Mapping
from typing import Any

from django import forms
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from accounts.access import require
from accounts.models import Role
from accounts.pages.signed_in import SignedInRequest
from drives.access import blanket_for
from drives.actions.colours.by_hand import colour_squares
from drives.craft.colours.reasons import kept_wrongly
from drives.craft.colours.wish import Wish
from drives.craft.layout.plan import Plan
from drives.craft.places import Place
from drives.drawing.planner import MOST_PRESSED
from drives.models import StoredState
from drives.pages.colours.rows import colour_map, colour_rows
from drives.readings.colour_counts import shown
from drives.readings.colour_plans import Draft, colours_wanted, draft
from drives.words.colours import reason_words
from drives.words.places import place_named
from shared.basics.lists import listed
from shared.pages.forms import ActionForm
from shared.pages.methods import require_methods

LONGEST = 4000  # characters of typed places
NONE = " "  # no name of a colour


class PaintForm(ActionForm):
    """``places``: squares of the plan, cleaned to a set."""

    colour = forms.TypedChoiceField(label=gettext_lazy("Colour"), coerce=str.strip)
    places = forms.CharField(
        label=gettext_lazy("Squares"),
        max_length=LONGEST,
        help_text=gettext_lazy("For example A1 B2 B3, or A1–C3: all from A1 to C3."),
    )

    def __init__(self, sent: Any, *, making: Draft, **kwargs: Any) -> None:
        super().__init__(sent, **kwargs)
        self.plan = making.plan
        names = [(name, name) for name in shown(making, making.colours)]
        self.offer("colour", [*names, (NONE, _("none: the next plan gives them one"))])

    def clean_places(self) -> set[Place]:
        try:
            return places_in(self.cleaned_data["places"], self.plan)
        except ValueError as wrong:
            raise forms.ValidationError(str(wrong)) from wrong


def places_in(text: str, plan: Plan) -> set[Place]:
    """The squares that are typed; ValueError says which word names none.

    What goes beyond ``LONGEST`` is not read: nobody types so much.
    """
    rows = Counter[int]()  # of each row: its squares, column by column, as bits
    for column, row in plan.places:
        rows[row] |= 1 << column
    found = Counter[int]()
    for word in text[:LONGEST].replace(",", " ").replace(";", " ").split():
        first, _dash, last = re.sub("[-–]", "-", word).partition("-")
        ends = place_named(first), place_named(last or first)
        (left, right), (low, high) = (sorted(sides) for sides in zip(*ends, strict=True))
        between = (2 << right) - (1 << left)
        inside = {row: rows[row] & between for row in range(low, high + 1)}
        if not any(inside.values()):
            raise ValueError(_("There is no square at %(place)s.") % {"place": word[:20]})
        for row, columns in inside.items():
            found[row] |= columns
    return {place for place in plan.places if found[place.row] >> place.column & 1}


@require_methods("GET", "POST")
@login_required
def paint_page(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """A GET shows the form as it is filled so far, after a ``press`` on the map."""
    blanket, me = blanket_for(request.user, blanket_id)
    require(me, Role.COORDINATOR)
    making = draft(blanket, colours_wanted(blanket))
    if request.method == "POST":
        form = PaintForm(request.POST, making=making)
        if form.is_valid():
            given = dict.fromkeys(form.cleaned_data["places"], form.cleaned_data["colour"])
            changed = colour_squares(blanket=blanket, by=me, colours=given, now=timezone.now())
            _tell(request, making, given, len(changed))
            return redirect("drives:paint", blanket_id)
    else:
        form = PaintForm(None, making=making, initial=_pressed(request.GET.dict(), making))
    marked = _marked(form, making)
    pressable = max(blanket.columns, blanket.rows) <= MOST_PRESSED
    facts = {
        "blanket": blanket,
        "drive": blanket.drive,
        "form": form,
        "lines": colour_rows(making, making.colours),
        "marked": ", ".join(str(place) for place in sorted(marked)),
        "pressable": pressable,
        "map": colour_map(
            making,
            making.colours,
            title=_("The blanket, to be pressed") if pressable else _("The blanket"),
            pressable=pressable,
            marked=marked,
        ),
        "clashes": [
            reason_words(reason)
            for reason in kept_wrongly(
                making.plan,
                Wish(making.wanted.pattern, {}, apart=blanket.apart, kept=making.colours),
            )
        ],
    }
    return render(request, "drives/colours/paint.html", facts, status=form.status)


def _pressed(sent: Mapping[str, str], making: Draft) -> dict[str, str]:
    """What is typed so far, with the pressed square added, or taken out again."""
    typed = sent.get("places", "")[:LONGEST]
    colour = sent.get("colour", next(iter(shown(making, making.colours)), ""))
    try:
        pressed = places_in(sent.get("press", ""), making.plan) ^ places_in(typed, making.plan)
    except ValueError:
        return {"colour": colour, "places": typed}
    return {"colour": colour, "places": " ".join(str(place) for place in sorted(pressed))}


def _marked(form: PaintForm, making: Draft) -> set[Place]:
    try:
        return places_in(str(form["places"].value() or ""), making.plan)
    except ValueError:
        return set()


def _tell(
    request: SignedInRequest, making: Draft, given: Mapping[Place, str], changed: int
) -> None:
    text = ngettext("%(count)d square changed.", "%(count)d squares changed.", changed)
    messages.success(request, text % {"count": changed})
    stay = {
        each.place for each in making.squares if each.state == StoredState.FINISHED and each.colour
    }
    if kept := sorted(stay & given.keys()):
        text = _("Finished, so unchanged: %(places)s.")
        messages.warning(request, text % {"places": listed(kept)})
