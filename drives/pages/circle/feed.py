"""A member's dates for their own calendar program: the address, and what it answers."""

from hashlib import sha256

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import timezone, translation
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from accounts.access import may, member_of
from accounts.models import Role
from accounts.pages.confirm import confirm
from accounts.pages.signed_in import SignedInRequest
from drives.access import feed_for
from drives.actions.circles import feeds
from drives.exports.calendar import calendar_file
from drives.models import Feed
from drives.pages.common.unchanged import unless_unchanged
from shared.pages.forms import ActionForm
from shared.pages.methods import require_methods


@never_cache
@require_methods("GET", "POST")
@login_required
def calendar_page(request: SignedInRequest, circle_id: int) -> HttpResponse:
    """What the address is good for; a POST makes one and shows it this once, in its own answer."""
    me = member_of(request.user, circle_id)
    address = ""
    if request.method == "POST":
        secret = feeds.make_feed(member=me, now=timezone.now())
        address = request.build_absolute_uri(reverse("drives:feed", args=[secret]))
    facts = {
        "me": me,
        "looks_after": may(me, Role.COORDINATOR),
        "address": address,
        "feed": Feed.objects.live().filter(member=me).first(),
    }
    return render(request, "drives/circle/feed.html", facts)


@require_methods("GET", "POST")
@login_required
def revoke_feed(request: SignedInRequest, circle_id: int) -> HttpResponse:
    """Make the address useless, after a yes."""
    me = member_of(request.user, circle_id)
    if request.method == "POST":
        if feeds.revoke_feed(member=me, now=timezone.now()):
            messages.success(request, _("Your calendar’s address no longer works."))
        return redirect("drives:calendar", circle_id)
    return confirm(
        request,
        ActionForm(),
        heading=_("Revoke your calendar’s address?"),
        consequences=[
            _("Calendar programs that have it get no more dates from it."),
            _("It cannot be undone; you can make a new one at any time."),
        ],
        submit=_("Revoke it"),
        back=reverse("drives:calendar", args=[circle_id]),
    )


@require_safe
def feed_file(request: HttpRequest, secret: str) -> HttpResponse:
    """The dates, for whoever knows the secret; 304 while they are what the asker has."""
    member = feed_for(secret).member
    with translation.override(member.circle.locale):
        dates = calendar_file(member, timezone.now())
    tag = f'"{sha256(dates).hexdigest()[:32]}"'
    sent = HttpResponse(dates, content_type="text/calendar; charset=utf-8")
    answer = unless_unchanged(request, tag, lambda: sent, kept="no-store")
    answer.headers["X-Robots-Tag"] = "noindex, nofollow"
    return answer
