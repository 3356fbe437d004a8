"""The first page: the landing page for visitors, the knitter's own page for members."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_safe

from accounts.access import may, memberships_of
from accounts.models import Role
from drives.models import Blanket, Claim
from drives.pages.landing import landing_picture
from drives.pages.pieces.mine import my_pieces
from drives.pages.square.offers import blanket_offers, next_ones
from drives.readings.board import boards_of
from drives.readings.progress import unfinished_blankets
from drives.sheets.suggestions import Meant


@require_safe
def home_page(request: HttpRequest) -> HttpResponse:
    """What is in hand, what can be begun, and for those who look after others what is late."""
    if not request.user.is_authenticated:
        return render(request, "drives/landing.html", {"picture": landing_picture()})
    members, now = memberships_of(request.user), timezone.now()
    claims = Claim.objects.open().select_related("member", "square__blanket__drive__circle")
    in_hand = list(claims.filter(member__in=members))
    knits_in = {member.circle_id for member in members if may(member, Role.VOLUNTEER)}
    cares_for = {member.circle_id for member in members if may(member, Role.COORDINATOR)}
    circles = [member.circle_id for member in members]
    blankets = list(unfinished_blankets(Blanket.objects.filter(drive__circle__in=circles)))
    overdue = claims.overdue(now).filter(square__blanket__drive__circle__in=cares_for)
    boards = boards_of([each for each in blankets if each.drive.circle_id in knits_in])
    by_rota = Meant([board.blanket for board in boards], timezone.localdate(now))
    suggested = blanket_offers(boards, in_hand, members, by_rota)
    facts = {
        "members": members,
        "in_hand": [_in_hand(claim, claim.late(now)) for claim in in_hand],
        "suggested": suggested,
        "next_ones": next_ones(boards, members, suggested, by_rota),
        "mine": my_pieces(members, timezone.localdate(now)),
        "blankets": blankets,
        "cares": bool(cares_for),
        "overdue": list(overdue) if cares_for else [],
        "first_circle": members[0].circle if members else None,
    }
    return render(request, "drives/home.html", facts)


def _in_hand(claim: Claim, late: bool) -> dict[str, object]:
    square = claim.square
    rows = square.rows_to_knit
    return {
        "claim": claim,
        "square": square,
        "blanket": square.blanket,
        "late": late,
        "rows_all": rows,
        "next": min(claim.rows_done + 1, rows),
    }
