"""Telling how it is reckoned what is to be bought for a blanket."""

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
from drives.actions.yarn import buying
from drives.pages.yarn.buying_words import buying_form
from drives.pages.yarn.of_blanket import blanket_yarn
from drives.readings.buying import purchase


@require_POST
@login_required
def set_buying(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """For coordinators: how certain, and for which border and seams."""
    blanket, me = blanket_for(request.user, blanket_id)
    require(me, Role.COORDINATOR)
    form = buying_form(purchase(blanket), request.POST)
    if form.carry_out(
        lambda: buying.set_buying(blanket=blanket, by=me, now=timezone.now(), **form.cleaned_data)
    ):
        messages.success(request, _("Worked out again."))
        return redirect("drives:blanket_yarn", blanket.pk)
    return blanket_yarn(request, blanket, me, wishing=form)
