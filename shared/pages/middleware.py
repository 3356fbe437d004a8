"""What wraps every response."""

import logging
import secrets

from django.conf import settings
from django.http import HttpRequest, HttpResponse, HttpResponseBase, HttpResponseNotAllowed
from django.shortcuts import render
from django.utils import timezone
from django.utils.translation import gettext as _

from shared.basics.limits import LimitReached, spend
from shared.pages.asker import address_of
from shared.pages.errors import alone
from shared.pages.wrapping import Wrapping
from shared.storage.files import AWAY_SECONDS, FilesAway

logger = logging.getLogger(__name__)

LARGEST_ID = 2**63 - 1

POLICY = "; ".join(
    (
        "default-src 'self'",
        "script-src 'self' 'nonce-{nonce}'",
        "style-src 'self' 'nonce-{nonce}'",
        "img-src 'self' data:",
        "object-src 'none'",
        "base-uri 'none'",
        "form-action 'self'",
        "frame-ancestors 'none'",
    )
)

DEVICES = "camera=(), display-capture=(), geolocation=(), microphone=(), payment=(), usb=()"


class ContentSecurityPolicy(Wrapping):
    """Lets a page load only the site's own files, and what carries the page's nonce.

    It gets nothing of the device either, and no other site shows what is the site's.
    """

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        nonce = secrets.token_urlsafe(16)
        request.csp_nonce = nonce  # type: ignore[attr-defined]
        response = self.get_response(request)
        response.headers.setdefault("Content-Security-Policy", POLICY.format(nonce=nonce))
        response.headers.setdefault("Permissions-Policy", DEVICES)
        response.headers.setdefault("Cross-Origin-Resource-Policy", "same-origin")
        return response


class Personal(Wrapping):
    """What is made for one person is kept by no cache: on a shared computer Back shows nothing."""

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        response = self.get_response(request)
        if settings.SESSION_COOKIE_NAME in request.COOKIES or "Authorization" in request.headers:
            response.headers.setdefault("Cache-Control", "private, no-store")
        return response


class Limits(Wrapping):
    """Pages by person, or else by address; and the answer to whatever goes beyond a limit.

    The API has its own rates and problem documents, and machines may always ask for the health.
    """

    FREE = ("/api/", "/health/", "/metrics/")

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        if not request.path.startswith(self.FREE):
            whose = request.user.pk or address_of(request)
            try:
                spend("pages", now=timezone.now(), person=whose)
            except LimitReached as limit:
                return _too_many(request, limit)
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, problem: Exception) -> HttpResponse | None:
        """429 with the sentence, and when to come again."""
        return _too_many(request, problem) if isinstance(problem, LimitReached) else None


def _too_many(request: HttpRequest, limit: LimitReached) -> HttpResponse:
    return _later(request, limit.detail, status=429, wait=limit.wait)


def _later(request: HttpRequest, detail: str, *, status: int, wait: int) -> HttpResponse:
    """The page that says why not now, with the seconds after which to come again."""
    answer = render(request, f"{status}.html", {"detail": detail}, status=status)
    answer.headers["Retry-After"] = str(wait)
    return answer


class KnownSizes(Wrapping):
    """Bodies of a bounded size, refused before any of it lies on the disk; and ids that can be.

    No body is larger than Django reads into memory: a file of yarns needs a fifth of that. An id
    that no table can hold stands for that of no row.
    """

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        # JSON is bounded where it is read, and the API says then what is wrong in its own way.
        read_at_once = request.content_type != "application/json"
        if read_at_once and _length(request) > settings.DATA_UPLOAD_MAX_MEMORY_SIZE:
            answer = alone(413)
            answer.headers["Connection"] = "close"
            return answer
        return self.get_response(request)

    def process_view(
        self, request: HttpRequest, view: object, args: object, kwargs: dict[str, object]
    ) -> None:
        """The address is read, the page not yet called."""
        for name, value in kwargs.items():
            if isinstance(value, int) and value > LARGEST_ID:
                kwargs[name] = 0


def _length(request: HttpRequest) -> int:
    """As it is announced; what is not announced is not read either."""
    try:
        return int(request.META.get("CONTENT_LENGTH") or 0)
    except ValueError:
        return 0


class NoSuchMethod(Wrapping):
    """A page for whoever opens an address that waits for a press, as after signing in again."""

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        response = self.get_response(request)
        if isinstance(response, HttpResponseNotAllowed) and not response.content:
            page = render(request, "405.html", status=405)
            page.headers["Allow"] = response.headers["Allow"]
            return page
        return response


class FilesOutOfReach(Wrapping):
    """503 with a sentence for a page that needs a file, while the files do not answer."""

    def process_exception(self, request: HttpRequest, problem: Exception) -> HttpResponse | None:
        """Other problems are not for us."""
        if not isinstance(problem, FilesAway):
            return None
        logger.error("the files do not answer: %s", problem)
        detail = _("The place where documents are kept does not answer. Please try again soon.")
        return _later(request, detail, status=503, wait=AWAY_SECONDS)


def csp_nonce(request: HttpRequest) -> dict[str, str]:
    """Context processor: ``{{ csp_nonce }}``, which ``{% htmx_script %}`` reads too."""
    return {"csp_nonce": getattr(request, "csp_nonce", "")}
