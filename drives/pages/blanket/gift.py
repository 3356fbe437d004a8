"""What the receiver of a finished blanket is told."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _

from accounts.access import require
from accounts.models import Role
from accounts.pages.signed_in import SignedInRequest
from drives.access import blanket_for
from drives.actions.drives.gifts import describe_gift
from drives.craft.fibre.notation import fibres_code
from drives.models import Blanket, Gift, told_care
from drives.pages.blanket.gift_form import GiftForm
from drives.readings.checks import drive_checks
from drives.readings.made_of import made_of
from shared.pages.forms import posted
from shared.pages.methods import require_methods


@require_methods("GET", "POST")
@login_required
def gift_page(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """The gift record's facts, and who of the makers is named on it."""
    blanket, me = blanket_for(request.user, blanket_id)
    require(me, Role.COORDINATOR)
    described = Gift.objects.filter(blanket=blanket).first()
    known = described or _by_its_yarns(blanket)
    sent = posted(request)
    form = GiftForm(sent, gift=known, units=blanket.drive.circle.units)
    if form.carry_out(
        lambda: describe_gift(
            blanket=blanket, by=me, description=form.description(), now=timezone.now()
        )
    ):
        messages.success(request, _("The gift record is kept."))
        return redirect("drives:gift", blanket_id)
    makers = me.circle.members.filter(knitted__blanket=blanket).distinct()
    facts = {
        "me": me,
        "checks": drive_checks(blanket.drive, blanket=blanket),
        "blanket": blanket,
        "drive": blanket.drive,
        "form": form,
        "by_its_yarns": not described and (known.fibres or known.care),
        "makers": len(makers),
        "named": [maker.name for maker in makers if maker.may_be_named],
    }
    return render(request, "drives/blanket/gift.html", facts, status=form.status)


def _by_its_yarns(blanket: Blanket) -> Gift:
    """What can be told before anybody has looked."""
    fibres, care = made_of(blanket)
    return Gift(blanket=blanket, fibres=fibres_code(fibres), care=told_care.stored_care(care))
