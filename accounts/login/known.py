"""Browsers in which somebody has given their right password before.

Whoever guesses from many networks is kept out for the day (``guesses`` of ``settings.LIMITS``).
That must not keep the owner out, so their own browsers are counted apart, each for itself.
"""

import secrets
from datetime import timedelta
from hashlib import sha256

from django.conf import settings
from django.http import HttpRequest, HttpResponse

COOKIE = "known"
SALT = "accounts.login.known"
LONGEST = timedelta(days=365)


def make_known(answer: HttpResponse, email: str) -> None:
    """The browser that gets this answer has given the right password of ``email``."""
    answer.set_signed_cookie(
        COOKIE,
        f"{_mark(email)} {secrets.token_hex(8)}",
        salt=SALT,
        max_age=LONGEST,
        secure=settings.SESSION_COOKIE_SECURE,
        httponly=True,
        samesite="Lax",
    )


def guesser(request: HttpRequest, email: str) -> str:
    """Whose guesses at the password of ``email`` count together: a known browser’s, or others’."""
    known = request.get_signed_cookie(COOKIE, "", salt=SALT, max_age=LONGEST) or ""
    mark, _blank, browser = known.partition(" ")
    return f"{_mark(email)} {browser}" if mark == _mark(email) else nobody_known(email)


def nobody_known(email: str) -> str:
    """All browsers that do not know the password of ``email``."""
    return _mark(email)


def _mark(email: str) -> str:
    """What tells the person, and not the address."""
    return sha256(email.lower().encode()).hexdigest()[:32]
