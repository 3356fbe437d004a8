"""Browsers in which people are signed in."""

from __future__ import annotations

from datetime import datetime
from typing import ClassVar

from django.contrib.sessions.base_session import AbstractBaseSession, BaseSessionManager
from django.db import models
from django.utils.translation import gettext_lazy

from accounts.models.tokens import digest_of
from accounts.models.user import User


class SessionManager(BaseSessionManager["Session"]):
    """Sessions."""

    def live(self, now: datetime) -> models.QuerySet[Session]:
        """Those that have not ended, the one used last first."""
        return self.filter(expire_date__gt=now).order_by(models.F("seen_at").desc(nulls_last=True))


class Session(AbstractBaseSession):
    """One browser; of visitors who have not signed in there is no ``user``.

    The rest of what is known stands in the columns too, so that its owner can look at it: when
    they signed in, when it was used last (to ten minutes), and what the browser said of itself.
    """

    user = models.ForeignKey(User, models.CASCADE, related_name="sessions", null=True)
    begun_at = models.DateTimeField(gettext_lazy("signed in"), null=True)
    seen_at = models.DateTimeField(gettext_lazy("last used"), null=True)
    browser = models.CharField(gettext_lazy("browser"), max_length=200, blank=True)

    objects: ClassVar[SessionManager] = SessionManager()

    @property
    def mark(self) -> str:
        """What it is called in addresses: its key is a secret."""
        return digest_of(self.session_key)[:24]
