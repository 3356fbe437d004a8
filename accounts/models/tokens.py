"""Secrets that are shown once and kept only as a digest."""

from __future__ import annotations

import hashlib
from datetime import datetime

from django.db import models
from django.utils.translation import gettext_lazy

from accounts.models.user import User


def digest_of(secret: str) -> str:
    """SHA-256 of a long random secret, 64 hex digits.

    The secrets have 256 random bits, so that a slow password hash would add nothing.
    """
    return hashlib.sha256(secret.encode()).hexdigest()


def made_since_the_password(user: str, made: str) -> models.Q:
    """Condition: what ``user`` owns was made (``made``) when the password was what it is now.

    So a new password ends whatever somebody else may have opened with the old one.
    """
    never = models.Q(**{f"{user}__password_changed_at": None})
    return never | models.Q(**{f"{made}__gte": models.F(f"{user}__password_changed_at")})


class ApiTokenQuerySet(models.QuerySet["ApiToken"]):
    """API tokens."""

    def live(self, now: datetime) -> ApiTokenQuerySet:
        """Those that open the API at ``now``."""
        in_time = models.Q(expires_at=None) | models.Q(expires_at__gt=now)
        since = made_since_the_password("user", "created_at")
        return self.filter(in_time, since, revoked_at=None, user__is_active=True)

    def with_key(self, key: str) -> ApiTokenQuerySet:
        """The token that this key belongs to, if there is one."""
        return self.filter(digest=digest_of(key))


class ApiToken(models.Model):
    """A key to the API; ``prefix`` is what its owner recognises it by. Old ones may have no end.

    ``second_step``: its owner had a second step when they made it.
    """

    user = models.ForeignKey(User, models.CASCADE, related_name="api_tokens")
    name = models.CharField(gettext_lazy("what it is for"), max_length=100)
    digest = models.CharField(max_length=64, unique=True)
    prefix = models.CharField(gettext_lazy("begins with"), max_length=12)
    read_only = models.BooleanField(gettext_lazy("may only read"), default=False, db_default=False)
    second_step = models.BooleanField(default=False, db_default=False)
    created_at = models.DateTimeField(gettext_lazy("made"))
    last_used_at = models.DateTimeField(gettext_lazy("last used"), null=True, blank=True)
    expires_at = models.DateTimeField(gettext_lazy("ends"), null=True, blank=True)
    revoked_at = models.DateTimeField(gettext_lazy("revoked"), null=True, blank=True)

    objects = ApiTokenQuerySet.as_manager()

    class Meta:
        ordering = ["-created_at", "-id"]

    def __str__(self) -> str:
        return f"{self.name} ({self.prefix}…)"
