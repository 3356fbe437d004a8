"""Who is calling: a browser's session, or a program with a key."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.utils import timezone
from django.utils.translation import gettext_lazy
from rest_framework import exceptions
from rest_framework.authentication import (
    BaseAuthentication,
    SessionAuthentication,
    get_authorization_header,
)
from rest_framework.permissions import SAFE_METHODS, IsAuthenticated
from rest_framework.request import Request

from accounts.actions import use_token
from accounts.login.second import must_have_second_step
from accounts.models import ApiToken, User

if TYPE_CHECKING:
    from rest_framework.views import APIView  # which asks for the classes of this module

KEYWORD = "Token"


class ByKey(BaseAuthentication):
    """``Authorization: Token <key>``."""

    def authenticate(self, request: Request) -> tuple[User, ApiToken] | None:
        keyword, _space, key = get_authorization_header(request).partition(b" ")
        if keyword.lower() != KEYWORD.lower().encode():
            return None
        token = use_token(key=key.strip().decode(errors="replace"), now=timezone.now())
        if token is None:
            raise exceptions.AuthenticationFailed(
                gettext_lazy("This key does not open the API: it is unknown, too old or revoked."),
                code="bad-token",
            )
        if not token.second_step and must_have_second_step(token.user):
            raise exceptions.AuthenticationFailed(
                gettext_lazy(
                    "An organiser’s key must be made by somebody who signs in with a second step. "
                    "Set one up, then make a new key."
                ),
                code="bad-token",
            )
        return token.user, token

    def authenticate_header(self, request: Request) -> str:
        return KEYWORD


class BySession(SessionAuthentication):
    """The session of a browser, with CSRF protection."""

    def enforce_csrf(self, request: Request) -> None:
        try:
            super().enforce_csrf(request)
        except exceptions.PermissionDenied as error:
            raise exceptions.PermissionDenied(
                gettext_lazy("The page that sent this is not trusted; please load it again."),
                code="csrf-failed",
            ) from error


class MayCall(IsAuthenticated):
    """Whoever has signed in or shows a key; a key that may only read changes nothing."""

    def has_permission(self, request: Request, view: APIView) -> bool:
        key = request.auth
        if isinstance(key, ApiToken) and key.read_only and request.method not in SAFE_METHODS:
            raise exceptions.PermissionDenied(
                gettext_lazy(
                    "This key may only read. Make another key for what changes something."
                ),
                code="key-only-reads",
            )
        return super().has_permission(request, view)


def caller(request: Request) -> User:
    """Who makes a call that nobody can make without signing in."""
    assert isinstance(request.user, User)
    return request.user
