"""From the wanted size to the grids that come nearest."""

from decimal import Decimal
from urllib.parse import urlencode

from django import forms
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext_lazy as _
from django.views.decorators.http import require_safe

from accounts.access import require
from accounts.models import Role, Units
from accounts.pages.signed_in import SignedInRequest
from drives.access import drive_for
from drives.craft.sizing import Size, nearest
from drives.pages import measures


class SizeForm(forms.Form):
    """The wanted size and the gauge, in the same units."""

    width = forms.FloatField(label=_("Width"), min_value=5, max_value=1000)
    height = forms.FloatField(label=_("Height"), min_value=5, max_value=1000)
    units = forms.ChoiceField(
        label=_("Measured in"),
        choices=[(Units.CM.value, _("centimetres")), (Units.INCH.value, _("inches"))],
        widget=forms.RadioSelect,
    )
    gauge = forms.DecimalField(
        label=_("Stitches over 10 cm (4 inches)"),
        min_value=Decimal(4),
        max_value=Decimal(60),
        max_digits=4,
        decimal_places=1,
        help_text=_("Count them on a piece of garter stitch knitted with the yarn of the blanket."),
    )


@require_safe
@login_required
def plan(request: SignedInRequest, drive_id: int) -> HttpResponse:
    """Ask for the size; offer the nearest grids, with what they really give."""
    drive, me = drive_for(request.user, drive_id)
    require(me, Role.ORGANISER)
    units = drive.circle.units
    form = SizeForm(request.GET or None, initial={"units": units})
    choices = []
    if form.is_valid():
        wanted = form.cleaned_data
        units = wanted["units"]
        gauge = measures.to_gauge(wanted["gauge"], units)
        width, height = (measures.to_cm(wanted[side], units) for side in ("width", "height"))
        told = measures.from_gauge(gauge, drive.circle.units)
        choices = [_choice(size, told, units) for size in nearest(width, height, float(gauge))]
    facts = {"drive": drive, "form": form, "choices": choices}
    return render(request, "drives/plan.html", facts)


def _choice(size: Size, gauge: Decimal, units: str) -> dict[str, object]:
    """One grid in words, and the query that carries it to the next page."""
    grid = {"columns": size.columns, "rows": size.rows, "stitches": size.stitches, "gauge": gauge}
    return {
        "size": size,
        "query": urlencode(grid),
        "gives": measures.size(size.width, size.height, units),
        "width_miss": measures.miss(size.width_miss, units),
        "height_miss": measures.miss(size.height_miss, units),
    }
