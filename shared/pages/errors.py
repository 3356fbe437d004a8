"""The pages for when the site stumbles, or what was sent cannot be read.

Nothing that they need may fail: they ask neither the database nor who is there.
"""

import sys

from django.contrib.staticfiles.storage import staticfiles_storage
from django.db import InterfaceError, OperationalError
from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.views.decorators.csrf import requires_csrf_token

DATABASE_AWAY = OperationalError, InterfaceError
DATABASE_AWAY_SECONDS = 5


@requires_csrf_token
def stumbled(request: HttpRequest) -> HttpResponse:
    """500; and 503 where it is the database that does not answer."""
    if not isinstance(sys.exc_info()[1], DATABASE_AWAY):
        return alone(500)
    answer = alone(503, "database_away.html")
    answer["Retry-After"] = str(DATABASE_AWAY_SECONDS)
    return answer


def misunderstood(request: HttpRequest, exception: Exception) -> HttpResponse:
    """400."""
    return alone(400)


def alone(status: int, template: str = "") -> HttpResponse:
    """The page for this status, without its looks if need be."""
    try:
        looks = staticfiles_storage.url("mitrewise/site.css")
    except (ValueError, OSError):
        # They are not collected, which may be why we are here.
        looks = ""
    page = render_to_string(template or f"{status}.html", {"looks": looks})
    return HttpResponse(page, status=status)
