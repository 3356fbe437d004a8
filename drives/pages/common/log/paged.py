"""A log in pages."""

from django.core.paginator import Page, Paginator
from django.db.models import QuerySet
from django.http import HttpRequest

from accounts.models import Event

EVENTS_A_PAGE = 50


def paged(request: HttpRequest, events: QuerySet[Event]) -> Page[Event]:
    """The page that ``?page=`` asks for; the last one for more than there are."""
    return Paginator(events, EVENTS_A_PAGE).get_page(request.GET.get("page"))
