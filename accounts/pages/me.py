"""The reader's own name, hand, circles and keys to the API."""

from django.contrib import messages
from django.contrib.auth import logout
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache

from accounts import access, actions
from accounts.login.notices import tell_owner
from accounts.login.second import has_second_step
from accounts.pages.confirm import confirm, names_in_documents
from accounts.pages.forms import PersonForm, TokenForm
from accounts.pages.signed_in import SignedInRequest, asked_again
from drives.craft.knitter import Hand
from shared.pages.forms import ActionForm, posted
from shared.pages.methods import require_methods


@require_methods("GET", "POST")
@login_required
def me(request: SignedInRequest) -> HttpResponse:
    """Name and hand, the circles, the keys."""
    user = request.user
    memberships = access.memberships_of(user)
    hand = memberships[0].hand if memberships else Hand.RIGHT
    form = PersonForm(
        posted(request),
        memberships=memberships,
        initial={"name": user.name, "hand": hand},
    )
    if form.carry_out(
        lambda: actions.change_person(user=user, now=timezone.now(), **form.cleaned_data)
    ):
        messages.success(request, _("What you changed is kept."))
        return redirect("accounts:me")
    return render(
        request,
        "accounts/me.html",
        {"form": form, "memberships": memberships, "tokens": user.api_tokens.live(timezone.now())},
        status=form.status,
    )


@never_cache
@require_methods("GET", "POST")
@login_required
@asked_again
def delete_me(request: SignedInRequest) -> HttpResponse:
    """Delete one's account, after a yes; the password is asked for once more."""
    access.memberships_of(request.user)
    form = ActionForm(posted(request))
    if form.carry_out(lambda: actions.delete_person(user=request.user, now=timezone.now())):
        tell_owner(request, "account_deleted")
        logout(request)
        messages.success(request, _("Your account is deleted."))
        return redirect("drives:home")
    return confirm(
        request,
        form,
        heading=_("Delete your account?"),
        consequences=[
            _("You leave all your circles, and can never sign in again."),
            _(
                "Your name, address, days away, letters, keys and calendars are deleted. "
                "This cannot be undone."
            ),
            _("What you knitted still counts, as the work of “a former member”."),
            names_in_documents(),
            _("Squares that you hold become free for others within the hour."),
            _("If nobody else organises one of your circles, hand it over or close it first."),
        ],
        submit=_("Delete my account"),
        back=reverse("accounts:me"),
    )


@never_cache
@require_methods("GET", "POST")
@login_required
@asked_again
def new_token(request: SignedInRequest) -> HttpResponse:
    """Make a key to the API and show it this once, in the answer to the POST itself.

    The password is asked for once more, and its owner is told.
    """
    form = TokenForm(posted(request))
    done = form.carry_out(
        lambda: actions.make_token(
            user=request.user,
            second_step=has_second_step(request.user),
            now=timezone.now(),
            **form.cleaned_data,
        )
    )
    if done:
        token, key = done.result
        tell_owner(request, "key_made", token=token)
        return render(request, "accounts/new_token_made.html", {"token": token, "key": key})
    return render(request, "accounts/new_token.html", {"form": form}, status=form.status)


@require_methods("GET", "POST")
@login_required
def revoke_token(request: SignedInRequest, token_id: int) -> HttpResponse:
    """Make a key useless, after a yes."""
    token = access.token_of(request.user, token_id, timezone.now())
    form = ActionForm(posted(request))
    if form.carry_out(lambda: actions.revoke_token(token=token, now=timezone.now())):
        messages.success(request, _("%(name)s is revoked.") % {"name": token.name})
        return redirect("accounts:me")
    return confirm(
        request,
        form,
        heading=_("Revoke %(name)s?") % {"name": token.name},
        consequences=[
            _("Programs that use this key can no longer read or change anything."),
            _("It cannot be undone; you can make a new key at any time."),
        ],
        submit=_("Revoke it"),
        back=reverse("accounts:me"),
    )
