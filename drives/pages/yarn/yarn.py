"""One yarn: what is known of it, where it is, and every way in which it moves."""

from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.db.models import Q
from django.http import Http404, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from accounts.access import may, require
from accounts.models import Member, Role
from accounts.pages.signed_in import SignedInRequest
from drives import measures
from drives.access import yarn_for
from drives.models import Yarn
from drives.models.yarn import with_hands
from drives.pages.yarn.moves import MOVE_KINDS, OWN_MOVE, MoveForm, MoveKind
from drives.pages.yarn.words import balances, facts_of, kept_for, move_line, receivers_words

NEWEST = 30  # lines of the ledger on its page, unless all are asked for


@require_safe
@login_required
def yarn_page(request: SignedInRequest, yarn_id: int) -> HttpResponse:
    """For members what they have of it; for coordinators everybody's, and the forms."""
    found, me = yarn_for(request.user, yarn_id)
    return _page(request, found, me)


@require_POST
@login_required
def move_yarn(request: SignedInRequest, yarn_id: int, way: str) -> HttpResponse:
    """Note that some of it moved in one of the ``WAYS``."""
    found, me = yarn_for(request.user, yarn_id)
    if way not in MOVE_KINDS:
        raise Http404
    if way != OWN_MOVE:
        require(me, Role.COORDINATOR)
    shown = _Shown(found, me)
    form = shown.form(way, request.POST)
    own = {} if shown.looks_after else {"member": me}
    done = form.carry_out(
        lambda: MOVE_KINDS[way].act(yarn=found, by=me, now=timezone.now(), **own | form.told())
    )
    if not done:
        return _page(request, found, me, form)
    move = done.result
    told = move_line(move, found.circle.units) if move else _("the books said so already")
    messages.success(request, _("Noted: %(line)s.") % {"line": told})
    return redirect("drives:yarn", found.pk)


class _Shown:
    """What of a yarn the reader may see."""

    def __init__(self, yarn: Yarn, me: Member) -> None:
        self.me, self.units = me, yarn.circle.units
        self.looks_after = may(me, Role.COORDINATOR)
        holdings = yarn.holdings.filter(grams__gt=0).select_related("member")
        moves = yarn.moves.select_related("member", "by")
        if not self.looks_after:
            holdings = holdings.filter(member=me)
            moves = moves.filter(Q(member=None) | Q(member=me))
        self.moves = moves
        self.holdings = list(holdings)
        self.people = list(me.circle.members.present()) if self.looks_after else []
        self.reserved = list(yarn.reservations.select_related("blanket"))
        newest = moves.values_list("pk", flat=True).first()
        self.seen = newest or 0

    def form(self, slug: str, sent: Any = None) -> MoveForm:
        people = self.people_for(MOVE_KINDS[slug]) if self.looks_after else None
        return MoveForm(
            sent,
            slug=slug,
            units=self.units,
            people=people,
            seen=self.seen,
            blankets=[each.blanket for each in self.reserved if each.grams],
        )

    def people_for(self, way: MoveKind) -> list[Member]:
        """Somebody who has left the circle can still have some, but gets no more."""
        holders = [holding.member for holding in self.holdings]
        if way.holders:
            return holders
        gone = [member for member in holders if member.left_at is not None]
        return self.people + (gone if way.store else [])

    def forms(self, sent: MoveForm | None) -> list[MoveForm]:
        """Those that make sense now, and the one that was sent."""
        if not self.looks_after:
            slugs = [OWN_MOVE] if self.holdings else []
        else:
            slugs = [
                slug for slug, way in MOVE_KINDS.items() if self.holdings or slug != "take-back"
            ]
        return [sent if sent and sent.slug == slug else self.form(slug) for slug in slugs]


def _page(
    request: SignedInRequest, found: Yarn, me: Member, sent: MoveForm | None = None
) -> HttpResponse:
    counted = with_hands(Yarn.objects.select_related("circle"), me).get(pk=found.pk)
    shown = _Shown(counted, me)
    same = Yarn.objects.filter(circle=found.circle_id, colour=found.colour).exclude(pk=found.pk)
    lines = shown.moves if "all" in request.GET else shown.moves[: NEWEST + 1]
    told = [(move, move_line(move, shown.units)) for move in lines]
    receivers = receivers_words(found.circle, [counted])
    facts = {
        "me": me,
        **facts_of(counted),
        **balances(counted),
        "shown": shown,
        "sent": sent,
        "hands": [
            (each.member.name, measures.balance_line(each.grams, shown.units))
            for each in shown.holdings
        ],
        "kept_for": kept_for(shown.reserved, shown.units),
        "drives": receivers["drives"],
        "refused": receivers["refused"][counted.pk],
        "forms": shown.forms(sent),
        "other_lots": list(same),
        "lines": told if "all" in request.GET else told[:NEWEST],
        "older": "all" not in request.GET and len(told) > NEWEST,
    }
    return render(request, "drives/yarn/yarn.html", facts, status=sent.status if sent else 200)
