"""Which methods a page answers: HEAD wherever it answers GET."""

from collections.abc import Callable
from typing import TypeVar

from django.http.response import HttpResponseBase
from django.views.decorators.http import require_http_methods

View = TypeVar("View", bound=Callable[..., HttpResponseBase])


def require_methods(*methods: str) -> Callable[[View], View]:
    """405 for any other method; pages that are only read take Django's ``require_safe``."""
    head = ["HEAD"] if "GET" in methods else []
    return require_http_methods([*methods, *head])
