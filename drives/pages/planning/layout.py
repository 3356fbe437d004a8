"""Drawing the layout of a new blanket, changing that of one that is there, and what it takes."""

from urllib.parse import urlencode

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from accounts.access import require
from accounts.models import Role
from accounts.pages.signed_in import SignedInRequest
from drives import measures
from drives.access import blanket_for, drive_for
from drives.actions.drives import blankets
from drives.pages.planning import sketch
from drives.pages.planning.layout_form import BlanketForm, LayoutForm, edited_data, state_of
from drives.pages.planning.needs_form import NeedsForm
from shared.pages.methods import require_methods


@require_methods("GET", "POST")
@login_required
def new_blanket(request: SignedInRequest, drive_id: int) -> HttpResponse:
    """Draw the layout on the grid chosen before; saving makes the blanket."""
    drive, me = drive_for(request.user, drive_id)
    require(me, Role.ORGANISER)
    units = drive.circle.units
    sent = (request.POST if request.method == "POST" else request.GET).dict()
    saving = request.POST.get("do") == "save"
    form = LayoutForm(edited_data(sent), by=me)
    naming = BlanketForm(sent if saving else None, initial={"gauge": 20} | sent)
    needs = NeedsForm(sent, units=units)
    layout = form.layout if form.is_valid() else None
    if layout and saving:
        done = naming.carry_out(
            lambda: blankets.plan_blanket(
                drive=drive,
                by=me,
                name=naming.cleaned_data["name"],
                gauge=measures.to_gauge(naming.cleaned_data["gauge"], units),
                layout=layout,
                now=timezone.now(),
            )
        )
        if done:
            messages.success(request, _("%(blanket)s is planned.") % {"blanket": done.result})
            return redirect("drives:blanket", done.result.pk)
    named = {name: naming[name].value() or "" for name in naming.fields} | needs.state
    facts = {
        "drive": drive,
        "naming": naming,
        "form": form,
        "needs": needs,
        "compare": urlencode(form.state | named),
        "map": sketch.pressable(form, named),
        "sketch": form.planned
        and sketch.summary(form.planned, sketch.usable_gauge(naming, units), needs, drive),
    }
    status = max(form.status, naming.status) if saving else 200
    response = render(request, "drives/planning/new_blanket.html", facts, status=status)
    response["HX-Push-Url"] = f"?{urlencode(form.state | named)}"
    return response


@require_methods("GET", "POST")
@login_required
def change_layout(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """Draw another layout for a blanket; what is begun must stay as it is."""
    blanket, me = blanket_for(request.user, blanket_id)
    require(me, Role.ORGANISER)
    sent = (request.POST if request.method == "POST" else request.GET).dict()
    saving = request.POST.get("do") == "save"
    form = LayoutForm(edited_data(sent or state_of(blanket.layout())), by=me)
    layout = form.layout if form.is_valid() else None
    if layout and saving:
        done = form.carry_out(
            lambda: blankets.change_layout(
                blanket=blanket, by=me, layout=layout, now=timezone.now()
            )
        )
        if done:
            messages.success(request, _("The layout is changed."))
            return redirect("drives:blanket", blanket_id)
    needs = NeedsForm(sent, units=blanket.drive.circle.units)
    facts = {
        "drive": blanket.drive,
        "blanket": blanket,
        "me": me,
        "form": form,
        "needs": needs,
        "map": sketch.pressable(form, needs.state),
        "sketch": form.planned
        and sketch.summary(form.planned, blanket.gauge, needs, blanket.drive, blanket),
    }
    status = form.status if saving else 200
    response = render(request, "drives/planning/change_layout.html", facts, status=status)
    response["HX-Push-Url"] = f"?{urlencode(form.state | needs.state)}"
    return response


@require_safe
@login_required
def what_it_takes(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """The same summary of a blanket that is made, for all who are in the circle."""
    blanket, me = blanket_for(request.user, blanket_id)
    form = NeedsForm(request.GET.dict(), units=blanket.drive.circle.units)
    facts = {
        "drive": blanket.drive,
        "blanket": blanket,
        "me": me,
        "needs": form,
        "sketch": sketch.summary(blanket.plan(), blanket.gauge, form, blanket.drive, blanket),
    }
    return render(request, "drives/planning/what_it_takes.html", facts)
