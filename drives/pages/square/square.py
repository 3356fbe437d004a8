"""A square in a knitter's hands: its card, and taking it."""

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect
from django.utils import timezone
from django.utils.formats import date_format
from django.utils.timezone import localtime
from django.utils.translation import gettext as _

from accounts.access import require
from accounts.models import Member, Role
from accounts.pages.signed_in import SignedInRequest
from drives.actions.squares import claims
from drives.models import Square
from drives.pages.square import card
from drives.pages.square.decorator import on_square


@on_square("GET")
def square_page(request: SignedInRequest, square: Square, me: Member) -> HttpResponse:
    """The card."""
    return card.page(request, square, me)


@on_square("POST")
def claim_square(request: SignedInRequest, square: Square, me: Member) -> HttpResponse:
    """Take the square."""
    require(me, Role.VOLUNTEER)
    claim, _new = claims.claim_square(square=square, member=me, by=me, now=timezone.now())
    due = date_format(localtime(claim.due_at), "MONTH_DAY_FORMAT")
    told = _("%(place)s is yours until %(due)s. Happy knitting!")
    messages.success(request, told % {"place": square, "due": due})
    return redirect("drives:square", square.blanket_id, square.place)
