"""Answers that are sent again only when they are others."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.utils.cache import get_conditional_response


def unless_unchanged(
    request: HttpRequest, tag: str, answer: Callable[[], HttpResponse], *, kept: str = "no-cache"
) -> HttpResponse:
    """``answer``, or a 304 for whoever has what ``tag``, a quoted ETag, stands for.

    ``kept``: whether the asker alone may keep it (``no-cache``: to ask again with its tag), or
    nobody (``no-store``).
    """
    response = get_conditional_response(request, etag=tag)
    if response is None:
        response = answer()
    response.headers["ETag"] = tag
    response.headers["Cache-Control"] = f"private, {kept}"
    return response
