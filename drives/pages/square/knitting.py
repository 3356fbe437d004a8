"""Knitting a square: the row to knit, and one press for each that is done."""

from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils import translation

from accounts.models import Member
from accounts.pages.signed_in import SignedInRequest
from drives.actions.squares import claims
from drives.craft.knitter import Hand
from drives.models import Claim, Square
from drives.pages.square import card
from drives.pages.square.decorator import on_square
from shared.basics.refusals import Refused


@on_square("GET")
def knit_page(request: SignedInRequest, square: Square, me: Member) -> HttpResponse:
    """The row that comes next, in large letters; who does not hold the square sees its card."""
    held = Claim.objects.open().filter(square=square, member=me).first()
    if held is None:
        return redirect("drives:square", square.blanket_id, square.place)
    translation.activate(square.blanket.drive.circle.locale)
    return render(request, "drives/square/knit.html", _facts(square, held))


@on_square("POST")
def count_rows(request: SignedInRequest, square: Square, me: Member) -> HttpResponse:
    """Set the row counter to what was sent; what is no number changes nothing."""
    sent, on_card = request.POST.get("rows_done", ""), "card" in request.POST
    back = reverse("drives:square" if on_card else "drives:knit", args=_at(square))
    held: Claim | None = None
    refused = None
    if sent.isdecimal():
        try:
            held = claims.count_rows(
                square=square, by=me, rows_done=int(sent[:6]), seen=_seen(request)
            )
        except Refused as refusal:
            if not request.headers.get("HX-Request"):
                raise
            refused = refusal
            held = Claim.objects.open().filter(square=square, member=me).first()
        if request.headers.get("HX-Request"):
            facts = _facts(square, held) if held else {"square": square, "place": square.place}
            facts |= {"refused": refused, "partial": True}
            part = "drives/square/square.html#counter" if on_card else "drives/square/knit.html#row"
            return render(request, part, facts, status=409 if refused else 200)
    return redirect(back + "#counter" if on_card else back)


def _seen(request: SignedInRequest) -> int | None:
    sent = request.POST.get("seen", "")
    return int(sent[:6]) if sent.isdecimal() else None


def _at(square: Square) -> list[object]:
    return [square.blanket_id, square.place]


def _facts(square: Square, held: Claim) -> dict[str, object]:
    """What the page and its part show; how to begin only before the first row."""
    facts = {
        "square": square,
        "place": square.place,
        "blanket": square.blanket,
        "drive": square.blanket.drive,
        "left": held.member.hand == Hand.LEFT,
        **card.counter(held, square),
    }
    if not held.rows_done:
        facts |= card.first_stitches(square.blanket.plan(), square.place, Hand(held.member.hand))
    return facts
