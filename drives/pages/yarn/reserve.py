"""Keeping yarn for a blanket."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST

from accounts.access import require
from accounts.models import Role
from accounts.pages.signed_in import SignedInRequest
from drives.access import blanket_for
from drives.actions.yarn import reservations
from drives.models import Yarn
from drives.pages.yarn.of_blanket import blanket_yarn
from drives.pages.yarn.reserve_form import ReserveForm


@require_POST
@login_required
def reserve_yarn(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """For coordinators: keep so much of a yarn of the circle for the blanket."""
    blanket, me = blanket_for(request.user, blanket_id)
    require(me, Role.COORDINATOR)
    yarns = {yarn.pk: yarn for yarn in Yarn.objects.filter(circle=me.circle)}
    named = [(pk, str(yarn)) for pk, yarn in yarns.items()]
    form = ReserveForm(request.POST, units=me.circle.units, yarns=named)
    done = form.carry_out(
        lambda: reservations.reserve_yarn(
            blanket=blanket,
            yarn=yarns[form.cleaned_data["yarn"]],
            grams=form.cleaned_data["amount"],
            by=me,
            now=timezone.now(),
        )
    )
    if not done:
        return blanket_yarn(request, blanket, me, reserving=form)
    yarn = yarns[form.cleaned_data["yarn"]]
    line = _("%(yarn)s is reserved.") if done.result else _("%(yarn)s is free again.")
    messages.success(request, line % {"yarn": yarn})
    return redirect("drives:blanket_yarn", blanket.pk)
