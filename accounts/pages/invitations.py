"""Inviting people, taking it back, and coming in."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.contrib.auth.views import redirect_to_login
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache

from accounts import access, actions
from accounts.models import Invitation, Role
from accounts.pages.confirm import confirm
from accounts.pages.forms import InviteForm, JoinForm
from accounts.pages.signed_in import SignedInRequest
from shared.pages.forms import ActionForm, posted
from shared.pages.methods import require_methods


@never_cache
@require_methods("GET", "POST")
@login_required
def invite_person(
    request: SignedInRequest, circle_id: int, member_id: int | None = None
) -> HttpResponse:
    """Make an invitation, for a paper member if one is named, and show its link this once.

    The link is in the answer to the POST itself: a redirect would have to keep it somewhere.
    """
    me = access.member_of(request.user, circle_id)
    access.require(me, Role.COORDINATOR)
    fellow = access.fellow_of(me, member_id) if member_id else None
    form = InviteForm(posted(request), by=me)
    done = form.carry_out(
        lambda: actions.invite_person(by=me, member=fellow, now=timezone.now(), **form.cleaned_data)
    )
    facts: dict[str, object] = {"me": me, "fellow": fellow, "form": form}
    if done:
        link = request.build_absolute_uri(reverse("accounts:join", args=[done.result.token]))
        facts |= {"invitation": done.result.invitation, "link": link}
        return render(request, "accounts/invited.html", facts)
    return render(request, "accounts/invite.html", facts, status=form.status)


@require_methods("GET", "POST")
@login_required
def revoke_invitation(request: SignedInRequest, circle_id: int, invitation_id: int) -> HttpResponse:
    """Take an invitation back, after a yes."""
    me = access.member_of(request.user, circle_id)
    invitation = access.invitation_of(me, invitation_id)
    access.require_to_give(me, invitation.roles)
    form = ActionForm(posted(request))
    if form.carry_out(
        lambda: actions.revoke_invitation(invitation=invitation, by=me, now=timezone.now())
    ):
        messages.success(request, _("The invitation is revoked."))
        return redirect("accounts:people", circle_id)
    return confirm(
        request,
        form,
        heading=_("Revoke this invitation?"),
        consequences=[
            _("Nobody can join by its link any more."),
            _("Those who have joined by it stay in the circle."),
        ],
        submit=_("Revoke it"),
        back=reverse("accounts:people", args=[circle_id]),
    )


@never_cache
@require_methods("GET", "POST")
def accept_invitation(request: HttpRequest, token: str) -> HttpResponse:
    """Who invites to what; those who have signed in can accept."""
    found = Invitation.objects.with_token(token).select_related("circle", "invited_by", "member")
    invitation = found.first()
    if invitation is None:
        return render(request, "accounts/no_invitation.html", status=404)
    access.read_as(invitation.circle)
    user, now, form = request.user, timezone.now(), JoinForm()
    if request.method == "POST":
        if not user.is_authenticated:
            return redirect_to_login(request.path)
        form = JoinForm(request.POST)
        done = form.carry_out(
            lambda: actions.accept_invitation(
                invitation=invitation, user=user, now=now, **form.cleaned_data
            )
        )
        if done:
            messages.success(request, _("Welcome to %(circle)s!") % {"circle": done.result.circle})
            return redirect("drives:circle", done.result.circle_id)
    closed = invitation.refusal(now)
    return render(
        request,
        "accounts/join.html",
        {"invitation": invitation, "form": form, "closed": closed},
        status=410 if closed and not form.refused else form.status,
    )
