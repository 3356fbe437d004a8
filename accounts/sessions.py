"""Where Django keeps its sessions: in rows that know whose they are (``SESSION_ENGINE``)."""

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from django.contrib.auth import SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore as DatabaseStore

from accounts.models import Session

BEGUN, SEEN, BROWSER, SHARED = "begun", "seen", "browser", "shared"
"""What the site keeps in a session: two moments in seconds, the browser, a shared computer."""


class SessionStore(DatabaseStore):
    """Django's own, which also fills our columns."""

    @classmethod
    def get_model_class(cls) -> type[Session]:
        return Session

    def create_model_instance(self, data: Mapping[str, Any]) -> Session:
        session: Session = super().create_model_instance(data)  # type: ignore[assignment, arg-type]
        session.user_id = int(data[SESSION_KEY]) if SESSION_KEY in data else None
        session.begun_at, session.seen_at = _moment(data.get(BEGUN)), _moment(data.get(SEEN))
        session.browser = data.get(BROWSER, "")
        return session


def _moment(seconds: float | None) -> datetime | None:
    return None if seconds is None else datetime.fromtimestamp(seconds, UTC)
