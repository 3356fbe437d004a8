"""From the wanted size to the grids that come nearest."""

from functools import partial
from typing import Any
from urllib.parse import urlencode

from django import forms
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext_lazy
from django.views.decorators.http import require_safe

from accounts.access import require
from accounts.models import Role, Units
from accounts.pages.signed_in import SignedInRequest
from drives import measures
from drives.access import drive_for
from drives.craft.layout.sizing import Size, nearest_sizes
from drives.craft.receivers.blanket_rules import PlanFacts, plan_conflicts
from drives.models import Drive
from drives.pages.common.fields import GaugeField
from drives.pages.planning import usual_sizes
from drives.readings.checks import rules_of
from drives.words import conflicts


class SizeForm(forms.Form):
    """The wanted size and the gauge, in the same units; a border is part of the size."""

    width = forms.FloatField(label=gettext_lazy("Width"), min_value=5, max_value=1000)
    height = forms.FloatField(label=gettext_lazy("Height"), min_value=5, max_value=1000)
    at_least = forms.BooleanField(label=gettext_lazy("At least this size"), required=False)
    units = forms.ChoiceField(
        label=gettext_lazy("Measured in"),
        choices=[
            (Units.CM.value, gettext_lazy("centimetres")),
            (Units.INCH.value, gettext_lazy("inches")),
        ],
        widget=forms.RadioSelect,
    )
    gauge = GaugeField(
        help_text=gettext_lazy(
            "Count them on a piece of garter stitch knitted with the yarn of the blanket."
        ),
    )
    border = forms.FloatField(
        label=gettext_lazy("Width of a border"),
        required=False,
        min_value=0,
        max_value=100,
        help_text=gettext_lazy("On each side, in garter stitch; the grids then leave room for it."),
    )

    def clean(self) -> dict[str, Any]:
        data: dict[str, Any] = self.cleaned_data
        around = 2 * (data.get("border") or 0)
        if around >= min(data.get("width", around + 1), data.get("height", around + 1)):
            self.add_error("border", gettext_lazy("This border leaves no room for squares."))
        return data


@require_safe
@login_required
def size_page(request: SignedInRequest, drive_id: int) -> HttpResponse:
    """Ask for the size; offer the nearest grids, with what they really give."""
    drive, me = drive_for(request.user, drive_id)
    require(me, Role.ORGANISER)
    own = drive.circle.units
    sent = request.GET.dict()
    units = sent.get("units", own)
    typed = usual_sizes.chosen(sent, units)
    # Pressing a typical size before coming to the gauge is no mistake.
    complete = sent and (sent.get("gauge") or not typed)
    begun = {"units": own, "at_least": _asks_at_least(drive)} | sent | typed
    form = SizeForm(sent | typed if complete else None, initial=begun)
    choices = []
    if form.is_valid():
        wanted = form.cleaned_data
        units = wanted["units"]
        gauge = measures.to_gauge(wanted["gauge"], units)
        width, height, around = (
            measures.to_cm(wanted[side] or 0, units) for side in ("width", "height", "border")
        )
        ridges = round(around * float(gauge) / 10)  # a ridge is as tall as a stitch is wide
        carried: dict[str, object] = {"gauge": measures.from_gauge(gauge, own)}
        if ridges:
            carried["border"] = ridges
        grids = nearest_sizes(
            width, height, float(gauge), border=ridges, at_least=wanted["at_least"]
        )
        choices = [
            _choice(size, carried, units) | {"conflicts": _conflicts(drive, size, units)}
            for size in grids
        ]
    facts = {
        "drive": drive,
        "form": form,
        "choices": choices,
        "none": form.is_valid() and not choices,
        "typical": usual_sizes.usual_sizes(units),
    }
    return render(request, "drives/planning/size.html", facts)


def _asks_at_least(drive: Drive) -> bool:
    """Whether its receiver takes nothing smaller than some size."""
    rules = rules_of(drive)
    return rules.shorter_from is not None or rules.longer_from is not None


def _conflicts(drive: Drive, size: Size, units: str) -> list[str]:
    """What the receiver would refuse of it, in sentences."""
    found = plan_conflicts(rules_of(drive), PlanFacts(size.width, size.height))
    return [conflicts.detail(each, partial(measures.length, units=units)) for each in found]


def _choice(size: Size, carried: dict[str, object], units: str) -> dict[str, object]:
    """One grid in words, and the query that takes it and what is ``carried`` to the next page."""
    grid = {"columns": size.columns, "rows": size.rows, "stitches": size.stitches}
    return {
        "size": size,
        "query": urlencode(grid | carried),
        "ridges": carried.get("border"),
        "gives": measures.size(size.width, size.height, units),
        "width_miss": measures.miss(size.width_miss, units),
        "height_miss": measures.miss(size.height_miss, units),
    }
