"""The page for when the site stumbles: nothing that it needs may fail."""

from django.contrib.staticfiles.storage import staticfiles_storage
from django.http import HttpRequest, HttpResponse, HttpResponseServerError
from django.template.loader import render_to_string
from django.views.decorators.csrf import requires_csrf_token


@requires_csrf_token
def stumbled(request: HttpRequest) -> HttpResponse:
    """500. Asks neither the database nor who is there, and does without its looks if need be."""
    try:
        looks = staticfiles_storage.url("mitrewise/site.css")
    except (ValueError, OSError):
        # They are not collected, which may be why we are here.
        looks = ""
    return HttpResponseServerError(render_to_string("500.html", {"looks": looks}))
