"""The yarn store of a circle: what there is, and what is known of it."""

from collections import Counter

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db.models import Prefetch
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from accounts.access import may, member_of, require
from accounts.models import Role
from accounts.pages.signed_in import SignedInRequest
from drives.access import yarn_for
from drives.actions.yarn import store
from drives.models import Reservation, Yarn
from drives.models.yarn import with_hands
from drives.pages.yarn.form import NewYarnForm, YarnForm, form_data
from drives.pages.yarn.words import balances, facts_of, kept_for, receivers_words
from shared.pages.forms import posted
from shared.pages.methods import require_methods


@require_safe
@login_required
def store_page(request: SignedInRequest, circle_id: int) -> HttpResponse:
    """What the circle has, and what of it the reader has."""
    me = member_of(request.user, circle_id)
    yarns = with_hands(Yarn.objects.filter(circle=me.circle), me)
    reserved = Prefetch("reservations", Reservation.objects.select_related("blanket"))
    found = list(yarns.prefetch_related(reserved))
    for yarn in found:
        yarn.circle = me.circle
    receivers = receivers_words(me.circle, found)
    lots = Counter(yarn.colour for yarn in found)
    facts = {
        "me": me,
        "drives": receivers["drives"],
        "yarns": [
            {
                **facts_of(yarn),
                **balances(yarn),
                "kept_for": kept_for(yarn.reservations.all(), me.circle.units),
                "refused": receivers["refused"][yarn.pk],
            }
            for yarn in found
        ],
        "several": [colour for colour, count in lots.items() if count > 1],
        "looks_after": may(me, Role.COORDINATOR),
    }
    return render(request, "drives/yarn/store.html", facts)


@require_methods("GET", "POST")
@login_required
def new_yarn(request: SignedInRequest, circle_id: int) -> HttpResponse:
    """Note a yarn that is not in the store yet."""
    me = member_of(request.user, circle_id)
    require(me, Role.COORDINATOR)
    form = NewYarnForm(posted(request), units=me.circle.units)
    done = form.carry_out(
        lambda: store.add_yarn(
            circle=me.circle,
            grams=form.cleaned_data["grams"],
            by=me,
            now=timezone.now(),
            **form.settings(),
        )
    )
    if done:
        messages.success(request, _("“%(yarn)s” is in the store.") % {"yarn": done.result})
        return redirect("drives:yarn", done.result.pk)
    return render(request, "drives/yarn/new.html", {"me": me, "form": form}, status=form.status)


@require_methods("GET", "POST")
@login_required
def change_yarn(request: SignedInRequest, yarn_id: int) -> HttpResponse:
    """Change what is known of it."""
    yarn, me = yarn_for(request.user, yarn_id)
    require(me, Role.COORDINATOR)
    units = yarn.circle.units
    form = YarnForm(posted(request), units=units, initial=form_data(yarn))
    if form.carry_out(
        lambda: store.change_yarn(yarn=yarn, by=me, now=timezone.now(), **form.settings())
    ):
        messages.success(request, _("The changes are kept."))
        return redirect("drives:yarn", yarn.pk)
    facts = {"me": me, "yarn": yarn, "form": form}
    return render(request, "drives/yarn/change.html", facts, status=form.status)
