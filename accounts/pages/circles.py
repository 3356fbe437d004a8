"""My circles, a new one, and a circle's settings."""

from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.forms import model_to_dict
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from accounts import access, actions
from accounts.models import Role
from accounts.pages.forms import CircleSettingsForm, CloseForm, NewCircleForm
from accounts.pages.signed_in import SignedInRequest, asked_again
from shared.pages.forms import posted
from shared.pages.methods import require_methods


@require_safe
@login_required
def circles(request: SignedInRequest) -> HttpResponse:
    """The circles that the reader is in."""
    memberships = access.memberships_of(request.user)
    return render(request, "accounts/circles.html", {"memberships": memberships})


@require_methods("GET", "POST")
@login_required
def new_circle(request: SignedInRequest) -> HttpResponse:
    """Make a circle and become its organiser."""
    form = NewCircleForm(posted(request))
    done = form.carry_out(
        lambda: actions.make_circle(user=request.user, now=timezone.now(), **form.cleaned_data)
    )
    if done:
        messages.success(
            request,
            _("%(circle)s is there. Now plan a blanket, or invite people.")
            % {"circle": done.result.circle},
        )
        return redirect("drives:circle", done.result.circle_id)
    return render(request, "accounts/new_circle.html", {"form": form}, status=form.status)


@require_methods("GET", "POST")
@login_required
def circle_settings(request: SignedInRequest, circle_id: int) -> HttpResponse:
    """Change a circle's name, measures, words and clock."""
    me = access.member_of(request.user, circle_id)
    access.require(me, Role.ORGANISER)
    form = CircleSettingsForm(posted(request), initial=model_to_dict(me.circle))
    done = form.carry_out(
        lambda: actions.change_circle(
            circle=me.circle, by=me, now=timezone.now(), **form.cleaned_data
        )
    )
    if done:
        messages.success(request, _("The settings are kept."))
        return redirect("accounts:people", circle_id)
    return render(
        request, "accounts/circle_settings.html", {"form": form, "me": me}, status=form.status
    )


@never_cache
@require_methods("GET", "POST")
@login_required
@asked_again
def close_circle(request: SignedInRequest, circle_id: int) -> HttpResponse:
    """Close a circle for everybody, once its data are taken along."""
    me = access.member_of(request.user, circle_id)
    access.require(me, Role.ORGANISER)
    form = CloseForm(posted(request))
    now = timezone.now()
    if form.carry_out(lambda: actions.close_circle(circle=me.circle, by=me, now=now)):
        messages.success(request, _("%(circle)s is closed.") % {"circle": me.circle})
        return redirect("accounts:circles")
    facts = {"form": form, "me": me, "days": settings.KEPT["circles"].days}
    return render(request, "accounts/close_circle.html", facts, status=form.status)
