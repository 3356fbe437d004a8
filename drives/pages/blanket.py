"""A blanket: its board, the part of it that refreshes itself, its log."""

from django.contrib.auth.decorators import login_required
from django.core.paginator import Paginator
from django.db.models import QuerySet
from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.utils.cache import get_conditional_response
from django.views.decorators.http import require_safe

from accounts.models import Event, Topic
from accounts.pages.signed_in import SignedInRequest
from drives.access import blanket_for
from drives.pages import board
from drives.pages.words import event_line

EVENTS_A_PAGE = 50
EVENTS_ON_BOARD = 5


@require_safe
@login_required
def blanket(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """The board: the map, what is ready, who holds what, what is late, what happened last."""
    blanket, me = blanket_for(request.user, blanket_id)
    events = _events(blanket_id)[:EVENTS_ON_BOARD]
    facts = board.facts(blanket, me, timezone.now()) | {
        "drive": blanket.drive,
        "events": [(event, event_line(event)) for event in events],
        "alone": me.circle.members.present().count() == 1,
    }
    return render(request, "drives/blanket.html", facts)


@require_safe
@login_required
def live(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """The part of the board that refreshes itself; 304 while nothing has changed."""
    blanket, me = blanket_for(request.user, blanket_id)
    now = timezone.now()
    tag = board.tag(blanket, me, now)
    response = get_conditional_response(request, etag=tag)
    if response is None:
        response = render(request, "drives/blanket.html#live", board.facts(blanket, me, now))
    response["ETag"] = tag
    response["Cache-Control"] = "private, no-cache"
    return response


@require_safe
@login_required
def log(request: SignedInRequest, blanket_id: int) -> HttpResponse:
    """Everything that happened to the blanket, newest first, in pages."""
    blanket, _me = blanket_for(request.user, blanket_id)
    page = Paginator(_events(blanket_id), EVENTS_A_PAGE).get_page(request.GET.get("page"))
    facts = {
        "drive": blanket.drive,
        "blanket": blanket,
        "page": page,
        "events": [(event, event_line(event)) for event in page],
    }
    return render(request, "drives/log.html", facts)


def _events(blanket_id: int) -> QuerySet[Event]:
    return Event.objects.about(Topic.BLANKET, blanket_id).select_related("by")
