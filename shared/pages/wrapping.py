"""What every middleware begins with."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponseBase


class Wrapping:
    """A middleware around ``get_response``, which is all that lies within."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        return self.get_response(request)
