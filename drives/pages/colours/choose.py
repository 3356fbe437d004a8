"""Choosing the colour of a square that one has in hand, or bringing one's own."""

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from accounts.models import Member
from accounts.pages.signed_in import SignedInRequest
from drives.actions.colours.plans import Chosen, choose_colour
from drives.actions.rights import square_rights
from drives.drawing.colours import UNNAMED
from drives.drawing.weaves import colour_sign
from drives.models import Square
from drives.pages.common.fields import LooksField, looks
from drives.pages.common.svg import drawn
from drives.pages.rules.words import asked_of_yarn
from drives.pages.square.decorator import on_square
from drives.readings.checks import colour_checks
from drives.readings.colour_plans import Draft, colours_wanted, draft
from shared.basics.lists import listed
from shared.pages.forms import ActionForm, posted


class ChooseForm(ActionForm):
    """One of the palette."""

    colour = forms.CharField(max_length=40)


class BringForm(ActionForm):
    """Yarn of one's own."""

    name = forms.CharField(
        label=gettext_lazy("Colour"),
        max_length=40,
        help_text=gettext_lazy("Give it a name, for example “Vera’s sunset”."),
    )
    value = LooksField(initial=UNNAMED)

    @property
    def looks(self) -> str:
        """``#rrggbb``"""
        return looks(self.cleaned_data["name"], self.cleaned_data["value"])


@on_square("GET", "POST")
def square_colour_page(request: SignedInRequest, square: Square, me: Member) -> HttpResponse:
    """For who has the square, and coordinators; others are told what it is."""
    sent = posted(request)
    bringing = sent is not None and sent.get("do") == "bring"
    choose = ChooseForm(None if bringing else sent)
    bring = BringForm(sent if bringing else None)
    form = bring if bringing else choose
    now = timezone.now()
    done = form.carry_out(
        lambda: (
            choose_colour(
                square=square, by=me, colour=bring.cleaned_data["name"], value=bring.looks, now=now
            )
            if bringing
            else choose_colour(square=square, by=me, colour=choose.cleaned_data["colour"], now=now)
        )
    )
    if done:
        messages.success(request, _told(done.result))
        return redirect("drives:square", square.blanket_id, square.place)
    choosing = square_rights(square, square.open_claim(), me).choose_colour
    making = draft(square.blanket, colours_wanted(square.blanket)) if choosing else None
    choices = _choices(making, square) if making else []
    drive = square.blanket.drive
    against = colour_checks([drive], [name for name, _sign, _has in choices])
    facts = {
        "square": square,
        "checks": [check for of in against.values() for check in of],
        "asked_of_yarn": asked_of_yarn(drive) if choosing else [],
        "me": me,
        "place": square.place,
        "blanket": square.blanket,
        "drive": drive,
        "choosing": choosing,
        "planned": bool(making and making.wanted.palette),
        "choices": choices,
        "choose": choose,
        "bring": bring,
    }
    return render(request, "drives/colours/choose.html", facts, status=form.status)


def _choices(making: Draft, square: Square) -> list[tuple[str, str, bool]]:
    """Each colour that it may have, with its sign, and whether it is the one it has."""
    possible = making.possible(square.place)
    return [
        (hue.name, drawn(colour_sign(number, hue.value)), hue.name == square.colour)
        for number, hue in enumerate(making.wanted.palette, start=1)
        if hue.name in possible
    ]


def _told(chosen: Chosen) -> str:
    facts = {"place": chosen.square, "colour": chosen.square.colour}
    told = _("%(place)s will be %(colour)s.") % facts
    if not chosen.others:
        return told
    others = _("So that no rule is broken, these change too: %(places)s.")
    return f"{told} {others % {'places': listed(chosen.others)}}"
