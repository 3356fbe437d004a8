"""A blanket: its board, the part of it that refreshes itself, its log."""

from collections.abc import Mapping
from datetime import datetime

from django.contrib.auth.decorators import login_required
from django.core.cache import cache
from django.db.models import QuerySet
from django.http import HttpResponse
from django.shortcuts import render
from django.template.loader import render_to_string
from django.utils import timezone
from django.utils.safestring import SafeString
from django.views.decorators.http import require_safe

from accounts.access import may
from accounts.models import Event, Member, Role, Topic
from accounts.pages.signed_in import SignedInRequest
from drives.access import blanket_for
from drives.models import Blanket, StoredState
from drives.pages.blanket import board
from drives.pages.blanket.look_at import look_at
from drives.pages.common.log.line import log_lines
from drives.pages.common.log.paged import paged
from drives.pages.common.unchanged import unless_unchanged
from drives.pages.common.unread import unread
from drives.pages.forecast.words import in_short
from drives.readings.checks import drive_checks
from drives.readings.foretold import newest
from drives.readings.looks import yarn_looks
from drives.sheets.kinds import FORECAST

EVENTS_ON_BOARD = 5
KEPT_SECONDS = 60


@require_safe
@login_required
def blanket_page(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """The board: the map, what is ready, who holds what, what is late, what happened last."""
    blanket, me = blanket_for(request.user, blanket_id)
    events = _events(blanket_id)[:EVENTS_ON_BOARD]
    now = timezone.now()
    looks = yarn_looks(blanket)
    live = _live(request, blanket, me, now, board.tag(blanket, me, now, looks), looks)
    forecast = newest(blanket, FORECAST.code)
    facts = {
        "blanket": blanket,
        "drive": blanket.drive,
        "me": me,
        "looks_after": may(me, Role.COORDINATOR),
        "notes": unread(me, blanket),
        "things": look_at(blanket, me),
        "checks": drive_checks(blanket.drive, blanket=blanket),
        "live": live,
        "foretold": forecast and in_short(forecast.told, timezone.localdate(now)),
        # Asked by the template, and only for those to whom it is told.
        "begun": blanket.squares.exclude(state=StoredState.OPEN).exists,
        "events": log_lines(events),
        "alone": lambda: me.circle.members.present().count() == 1,
    }
    return render(request, "drives/blanket/blanket.html", facts)


@require_safe
@login_required
def live_part(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """The part of the board that refreshes itself; 304 while nothing has changed."""
    blanket, me = blanket_for(request.user, blanket_id)
    now = timezone.now()
    looks = yarn_looks(blanket)
    tag = board.tag(blanket, me, now, looks)
    return unless_unchanged(
        request, tag, lambda: HttpResponse(_live(request, blanket, me, now, tag, looks))
    )


@require_safe
@login_required
def log_page(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """Everything that happened to the blanket, newest first, in pages."""
    blanket, _me = blanket_for(request.user, blanket_id)
    page = paged(request, _events(blanket_id))
    facts = {
        "drive": blanket.drive,
        "blanket": blanket,
        "page": page,
        "events": log_lines(page),
    }
    return render(request, "drives/blanket/log.html", facts)


def _live(
    request: SignedInRequest,
    blanket: Blanket,
    me: Member,
    now: datetime,
    tag: str,
    looks: Mapping[str, str],
) -> SafeString:
    """The refreshing part, kept for a minute: most who look at a board see what it was just now."""
    key = f"board:{blanket.created_at.timestamp()}:{tag}"
    live: SafeString | None = cache.get(key)
    if live is None:
        facts = board.board_facts(blanket, me, now, tag, looks)
        live = render_to_string("drives/blanket/blanket.html#live", facts, request)
        cache.set(key, live, KEPT_SECONDS)
    return live


def _events(blanket_id: int) -> QuerySet[Event]:
    return Event.objects.about(Topic.BLANKET, blanket_id).select_related("by")
