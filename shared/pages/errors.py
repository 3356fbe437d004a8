"""The pages for when the site stumbles, or what was sent cannot be read.

Nothing that they need may fail: they ask neither the database nor who is there.
"""

from django.contrib.staticfiles.storage import staticfiles_storage
from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.views.decorators.csrf import requires_csrf_token


@requires_csrf_token
def stumbled(request: HttpRequest) -> HttpResponse:
    """500."""
    return alone(500)


def misunderstood(request: HttpRequest, exception: Exception) -> HttpResponse:
    """400."""
    return alone(400)


def alone(status: int) -> HttpResponse:
    """The page for this status, without its looks if need be."""
    try:
        looks = staticfiles_storage.url("mitrewise/site.css")
    except (ValueError, OSError):
        # They are not collected, which may be why we are here.
        looks = ""
    return HttpResponse(render_to_string(f"{status}.html", {"looks": looks}), status=status)
