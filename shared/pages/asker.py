"""Who asks, as the network knows them."""

from django.http import HttpRequest
from rest_framework.throttling import BaseThrottle


def address_of(request: HttpRequest) -> str:
    """The network address that asks: the one that the proxy saw, where there is one.

    As the API's throttles know it, so that the settings say once whom we believe.
    """
    return BaseThrottle().get_ident(request)  # type: ignore[arg-type]
