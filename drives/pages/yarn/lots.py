"""Choosing which dye lots of a colour a blanket is knitted in."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from accounts.access import require
from accounts.models import Role
from accounts.pages.signed_in import SignedInRequest
from drives.access import blanket_for
from drives.models import Yarn
from drives.pages.yarn.lot_forms import LotsForm
from drives.pages.yarn.new_lot_form import NewLotForm
from drives.pages.yarn.of_blanket import blanket_yarn
from drives.words.yarn import lot_name


@require_POST
@login_required
def choose_lots(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """For coordinators: say which lots of a colour the blanket is knitted in."""
    blanket, me = blanket_for(request.user, blanket_id)
    require(me, Role.COORDINATOR)
    colour = request.POST.get("colour", "")
    yarns = Yarn.objects.filter(circle=me.circle, colour=colour)
    form = LotsForm(request.POST, [(yarn.pk, lot_name(yarn.dye_lot)) for yarn in yarns])
    if form.carry_out(lambda: form.act(blanket, me)):
        messages.success(request, _("The dye lots of %(colour)s are noted.") % {"colour": colour})
        return redirect("drives:blanket_yarn", blanket.pk)
    return blanket_yarn(request, blanket, me, form)


@require_POST
@login_required
def plan_new_lot(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """For coordinators: place a lot that is to be bought in the plan."""
    blanket, me = blanket_for(request.user, blanket_id)
    require(me, Role.COORDINATOR)
    stored = (
        Yarn.objects.filter(circle=me.circle).order_by("colour").values_list("colour", flat=True)
    )
    form = NewLotForm(request.POST, units=me.circle.units, colours=stored.distinct())
    done = form.carry_out(lambda: form.act(blanket, me))
    if done:
        line = _("%(yarn)s is in the plan now, still to be bought.")
        if not form.cleaned_data["amount"]:
            line = _("What was to be bought of %(yarn)s is out of the plan.")
        messages.success(request, line % {"yarn": done.result})
        return redirect("drives:blanket_yarn", blanket.pk)
    return blanket_yarn(request, blanket, me, planning=form)
