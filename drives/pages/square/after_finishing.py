"""Weighing and measuring a square that was just finished."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from accounts.models import Member
from accounts.pages.signed_in import SignedInRequest
from drives import measures
from drives.actions.squares import measurements, weights
from drives.models import Square
from drives.pages.gauge.forms import SidesForm, WeighForm
from drives.pages.square import card
from drives.pages.square.decorator import on_square


@on_square("POST")
def weigh_square(request: SignedInRequest, square: Square, me: Member) -> HttpResponse:
    """Note what it weighs."""
    units = square.blanket.drive.circle.units
    form = WeighForm(request.POST, units=units)
    if not form.is_valid():
        return card.page(request, square, me, sent=form)
    grams = form.cleaned_data["weight"]
    weights.weigh_square(square=square, by=me, grams=grams, now=timezone.now())
    told = {"place": square, "weight": measures.weighed(float(grams), units)}
    messages.success(request, _("Noted: %(place)s weighs %(weight)s. Thank you!") % told)
    return redirect(_section(square))


@on_square("POST")
def measure_square(request: SignedInRequest, square: Square, me: Member) -> HttpResponse:
    """Note how long its sides are; its card then says what follows."""
    form = SidesForm(request.POST, units=square.blanket.drive.circle.units)
    if not form.is_valid():
        return card.page(request, square, me, sent=form)
    measurements.measure_square(
        blanket=square.blanket,
        member=square.knitter or me,
        by=me,
        square=square,
        measured=form.measured(square.side_stitches, ridges=square.side_stitches),
        now=timezone.now(),
    )
    messages.success(request, _("%(place)s is measured.") % {"place": square})
    return redirect(_section(square))


def _section(square: Square) -> str:
    return reverse("drives:square", args=[square.blanket_id, square.place]) + "#told"
