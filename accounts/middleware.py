"""Each request begins with the words and the clock that its reader is likely to want."""

from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponseBase
from django.utils import timezone, translation

from accounts.actions import keep_session


class Reader:
    """Words by the browser's language and the site's clock, until a circle says otherwise.

    It stands around Django's LocaleMiddleware, which asks the browser. ``accounts.access`` knows
    better as soon as it has loaded the membership (``read_as``), so it costs no query. Nothing of
    it is left for the next request.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        with translation.override(settings.LANGUAGE_CODE), timezone.override(None):
            return self.get_response(request)


class Sessions:
    """Notes that a session is used, and ends those that have been idle or have lasted too long."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        if settings.SESSION_COOKIE_NAME in request.COOKIES:
            keep_session(session=request.session, now=timezone.now())
        return self.get_response(request)
