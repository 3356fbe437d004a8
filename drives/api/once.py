"""A call with an ``Idempotency-Key`` acts once, however often it is sent."""

import hashlib
import json
import re
from collections.abc import Callable
from functools import wraps
from typing import Any, Concatenate, ParamSpec, TypeVar

from django.utils import timezone
from django.utils.translation import gettext as _
from rest_framework.renderers import JSONRenderer
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from accounts.actions import begin_call, end_call, forget_call
from shared.basics.refusals import NotedRefusal, Refused
from shared.basics.transactions import writing

from .keys import caller

P = ParamSpec("P")
AnyView = TypeVar("AnyView", bound=APIView)
Handler = Callable[Concatenate[AnyView, Request, P], Response]

HEADER = "Idempotency-Key"
REPLAYED = "Idempotent-Replayed"
USABLE = re.compile(r"[!-~]{1,255}")


def once(handler: Handler[AnyView, P]) -> Handler[AnyView, P]:
    """For a handler that acts: the same call again gets the first answer and acts no more.

    Key and action share one transaction. A second call that comes meanwhile waits for the first
    one's key, and what is refused leaves no key behind.
    """

    @wraps(handler)
    def guarded(view: AnyView, request: Request, /, *args: P.args, **kwargs: P.kwargs) -> Response:
        key = request.headers.get(HEADER)
        if key is None:
            return handler(view, request, *args, **kwargs)
        if not USABLE.fullmatch(key):
            raise Refused("bad-idempotency-key", _("This Idempotency-Key cannot be used."))
        with writing():
            call, new = begin_call(
                user=caller(request), key=key, now=timezone.now(), fingerprint=_fingerprint(request)
            )
            if not new:
                return Response(call.body, call.status, headers={REPLAYED: "true"})
            try:
                response = handler(view, request, *args, **kwargs)
            except NotedRefusal as refused:
                noted: NotedRefusal | None = refused
                forget_call(call=call)
            else:
                noted = None
                end_call(call=call, status=response.status_code, body=_as_sent(response.data))
        if noted:
            raise noted  # outside the transaction, which keeps what was noted
        return response

    guarded.acts_once = True  # type: ignore[attr-defined]
    return guarded


def _fingerprint(request: Request) -> str:
    said = json.dumps([request.method, request.path, request.data], sort_keys=True)
    return hashlib.sha256(said.encode()).hexdigest()


def _as_sent(data: Any) -> Any:
    return json.loads(JSONRenderer().render(data))
