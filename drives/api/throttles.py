"""How many calls somebody may make (``DEFAULT_THROTTLE_RATES`` in the settings)."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rest_framework.request import Request
from rest_framework.settings import api_settings
from rest_framework.throttling import SimpleRateThrottle

if TYPE_CHECKING:  # the framework's views load this module
    from rest_framework.views import APIView


class Rates(SimpleRateThrottle):
    """Counts by who calls, or else by address. Planning costs the most, so it has its own rates.

    A rate is looked up at each call, so that settings can change it; None is no limit.
    """

    def __init__(self) -> None:
        """The rate is known only with the call."""

    def allow_request(self, request: Request, view: APIView) -> bool:
        self.scope = getattr(view, "rate", "calls")
        if self.scope == "plan" and not request.user.is_authenticated:
            self.scope = "plan-anonymous"
        rate: Any = api_settings.DEFAULT_THROTTLE_RATES[self.scope]
        self.rate = rate
        self.num_requests, self.duration = self.parse_rate(rate)
        return super().allow_request(request, view)

    def get_cache_key(self, request: Request, view: APIView) -> str:
        ident = request.user.pk if request.user.is_authenticated else self.get_ident(request)
        return self.cache_format % {"scope": self.scope, "ident": ident}
