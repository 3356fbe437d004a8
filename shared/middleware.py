"""What wraps every response."""

import secrets
from collections.abc import Callable

from django.http import HttpRequest, HttpResponseBase

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


class ContentSecurityPolicy:
    """Lets a page load only the site's own files, and what carries the page's nonce."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        nonce = secrets.token_urlsafe(16)
        request.csp_nonce = nonce  # type: ignore[attr-defined]
        response = self.get_response(request)
        response.headers.setdefault("Content-Security-Policy", POLICY.format(nonce=nonce))
        return response


def csp_nonce(request: HttpRequest) -> dict[str, str]:
    """Context processor: ``{{ csp_nonce }}``, which ``{% htmx_script %}`` reads too."""
    return {"csp_nonce": getattr(request, "csp_nonce", "")}
