"""Ending a claim, and what organisers and coordinators do about others' squares.

A GET asks and says what will happen; the POST does it. The knitter's own buttons post directly.
"""

from datetime import datetime

from django import forms
from django.contrib import messages
from django.http import HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.timezone import localtime
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from accounts.access import require
from accounts.models import Member, Role
from accounts.pages.confirm import confirm
from accounts.pages.signed_in import SignedInRequest
from drives.actions.squares import claims, finishing
from drives.models import Square
from drives.pages.common import consequences
from drives.pages.common.square_words import ready_now
from drives.pages.common.who import WhoForm
from drives.pages.square.decorator import on_square
from shared.basics.refusals import NotedRefusal
from shared.pages.forms import ActionForm, posted


class ExtendForm(ActionForm):
    """How much longer."""

    days = forms.IntegerField(
        label=gettext_lazy("Days more"), min_value=1, max_value=365, initial=7
    )


@on_square("GET", "POST")
def finish_square(request: SignedInRequest, square: Square, me: Member) -> HttpResponse:
    """The square is done, by its holder or noted for them; the thanks say what became ready."""
    if request.method == "POST":
        done = finishing.finish_square(square=square, by=me, now=timezone.now())
        thanks = _("%(place)s is finished. Thank you!") % {"place": square}
        messages.success(request, f"{thanks} {ready_now(done.ready)}")
        return _card(square)
    return confirm(
        request,
        ActionForm(),
        heading=_("Is %(place)s finished?") % {"place": square},
        consequences=consequences.finishing(square),
        submit=_("It is finished"),
        back=_address(square),
    )


@on_square("GET", "POST")
def give_back_square(request: SignedInRequest, square: Square, me: Member) -> HttpResponse:
    """The square goes back unfinished, by its holder or for them."""
    if request.method == "POST":
        claims.give_back_square(square=square, by=me, now=timezone.now())
        messages.success(request, _("%(place)s is given back.") % {"place": square})
        return _card(square)
    return confirm(
        request,
        ActionForm(),
        heading=_("Give %(place)s back?") % {"place": square},
        consequences=consequences.giving_back(square),
        submit=_("Give it back"),
        back=_address(square),
    )


@on_square("GET", "POST")
def claim_square_for(request: SignedInRequest, square: Square, me: Member) -> HttpResponse:
    """Take the square for somebody else, who may be on paper."""
    require(me, Role.COORDINATOR)
    form = WhoForm(posted(request), by=me)
    if form.is_valid():
        member = form.cleaned_data["member"]
        try:
            claim, _new = claims.claim_square(
                square=square, member=member, by=me, now=timezone.now()
            )
        except NotedRefusal as noted:
            told = {"name": member, **noted.facts}
            in_line = _(
                "%(name)s is number %(turn)d in line for the piece %(piece)s, which is with "
                "%(holder)s."
            )
            messages.warning(request, in_line % told)
            return _card(square)
        told = {"place": square, "name": member, "due": _day(claim.due_at)}
        messages.success(request, _("%(place)s is with %(name)s until %(due)s.") % told)
        return _card(square)
    return confirm(
        request,
        form,
        heading=_("Claim %(place)s for somebody") % {"place": square},
        consequences=consequences.claiming(square),
        submit=_("Claim it for them"),
        back=_address(square),
    )


@on_square("GET", "POST")
def extend_claim(request: SignedInRequest, square: Square, me: Member) -> HttpResponse:
    """Give the holder more days."""
    require(me, Role.COORDINATOR)
    form = ExtendForm(posted(request))
    if form.is_valid():
        days = form.cleaned_data["days"]
        claim = claims.extend_claim(square=square, by=me, days=days, now=timezone.now())
        told = {"place": square, "due": _day(claim.due_at)}
        messages.success(request, _("%(place)s is now due on %(due)s.") % told)
        return _card(square)
    return confirm(
        request,
        form,
        heading=_("More time for %(place)s?") % {"place": square},
        consequences=consequences.extending(square),
        submit=_("Give more time"),
        back=_address(square),
    )


@on_square("GET", "POST")
def release_claim(request: SignedInRequest, square: Square, me: Member) -> HttpResponse:
    """Take the square out of hands that no longer work on it."""
    require(me, Role.COORDINATOR)
    if request.method == "POST":
        claims.release_claim(square=square, by=me, now=timezone.now())
        messages.success(request, _("%(place)s is free again.") % {"place": square})
        return _card(square)
    return confirm(
        request,
        ActionForm(),
        heading=_("Release %(place)s?") % {"place": square},
        consequences=consequences.releasing(square),
        submit=_("Release it"),
        back=_address(square),
    )


@on_square("GET", "POST")
def rip_back_square(request: SignedInRequest, square: Square, me: Member) -> HttpResponse:
    """A finished square becomes unfinished."""
    require(me, Role.COORDINATOR)
    if request.method == "POST":
        finishing.rip_back_square(square=square, by=me, now=timezone.now())
        messages.success(request, _("%(place)s is ripped back.") % {"place": square})
        return _card(square)
    return confirm(
        request,
        ActionForm(),
        heading=_("Rip %(place)s back?") % {"place": square},
        consequences=consequences.ripping(square),
        submit=_("Rip it back"),
        back=_address(square),
    )


def _address(square: Square) -> str:
    return reverse("drives:square", args=[square.blanket_id, square.place])


def _card(square: Square) -> HttpResponseRedirect:
    return redirect(_address(square))


def _day(at: datetime) -> str:
    return date_format(localtime(at), "MONTH_DAY_FORMAT")
