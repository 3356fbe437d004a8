"""Each request begins with the words and the clock that its reader is likely to want."""

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase, JsonResponse
from django.shortcuts import redirect
from django.utils import timezone, translation
from django.utils.translation import gettext as _

from accounts.access import memberships_of
from accounts.actions import keep_session
from accounts.login.second import lacks_second_step
from shared.pages.wrapping import Wrapping


class Reader(Wrapping):
    """Words by the browser's language and the site's clock, until a circle says otherwise.

    It stands around Django's LocaleMiddleware, which asks the browser. ``accounts.access`` knows
    better as soon as it has loaded the membership (``read_as``), so it costs no query. Nothing of
    it is left for the next request.
    """

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        with translation.override(settings.LANGUAGE_CODE), timezone.override(None):
            return self.get_response(request)

    def process_view(
        self, request: HttpRequest, view: object, args: object, kwargs: object
    ) -> None:
        """allauth’s own pages ask no loader, and read as the person’s others do."""
        if request.path.startswith("/account/") and request.user.is_authenticated:
            memberships_of(request.user)


class Sessions(Wrapping):
    """Notes that a session is used, and ends those that have been idle or have lasted too long."""

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        if settings.SESSION_COOKIE_NAME in request.COOKIES:
            keep_session(session=request.session, now=timezone.now())
        return self.get_response(request)


class SecondFactor(Wrapping):
    """Whoever must have a second step when signing in sets it up before anything else.

    Programs with a key go on: keys are made on pages, behind this.
    """

    FREE = ("/account/", "/health/", "/static/", "/privacy/")

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        if (
            request.path.startswith(self.FREE)
            or not request.user.is_authenticated
            or not lacks_second_step(request.user)
        ):
            return self.get_response(request)
        told = _(
            "Whoever organises a circle here must sign in with a second step. Please set one up."
        )
        if request.path.startswith("/api/"):
            problem = {"type": "about:blank", "title": told, "status": 403}
            return JsonResponse(problem, status=403, content_type="application/problem+json")
        messages.info(request, told)
        return redirect("mfa_index")
