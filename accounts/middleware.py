"""Each request begins with the words and the clock that its reader is likely to want."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponseBase
from django.utils import timezone
from django.utils.translation import get_language

from shared.words import speaking


class Reader:
    """Words by the browser's language and the site's clock, until a circle says otherwise.

    ``accounts.access`` does that as soon as it has loaded the membership (``read_as``), so
    it costs no query. Nothing of it is left for the next request.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        english = "american" if get_language() == "en-us" else "british"
        with speaking(english), timezone.override(None):
            return self.get_response(request)
