"""Where the reader is signed in."""

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.http import require_POST, require_safe

from accounts import access, actions
from accounts.models import Session
from accounts.pages.browsers import browser_name
from accounts.pages.signed_in import SignedInRequest


@require_safe
@login_required
def sessions(request: SignedInRequest) -> HttpResponse:
    """Each browser, since when and when last, with a press that ends it."""
    access.memberships_of(request.user)  # for the reader's clock
    here = request.session.session_key
    rows = [
        (session, browser_name(session.browser), session.session_key == here)
        for session in Session.objects.live(timezone.now()).filter(user=request.user)
    ]
    return render(request, "accounts/sessions.html", {"rows": rows})


@require_POST
@login_required
def end_session(request: SignedInRequest, mark: str) -> HttpResponse:
    """End one of them; the reader's own too, which is signing out."""
    actions.end_session(session=access.session_of(request.user, mark, timezone.now()))
    messages.success(request, _("That browser is signed out."))
    return redirect("accounts:sessions")


@require_POST
@login_required
def end_other_sessions(request: SignedInRequest) -> HttpResponse:
    """End all but the one that is used just now."""
    ended = actions.end_other_sessions(user=request.user, kept=request.session.session_key)
    told = ngettext(
        "%(count)d other browser is signed out.", "%(count)d other browsers are signed out.", ended
    )
    messages.success(request, told % {"count": ended})
    return redirect("accounts:sessions")
