"""A new password."""

from datetime import datetime

from accounts.actions.security import note_security
from accounts.models import SecurityKind, User
from shared.basics.transactions import writing


def change_password(*, user: User, password: str, now: datetime) -> User:
    """The user with this password: keys, calendar addresses and other sessions end with the old."""
    with writing():
        user.set_password(password)
        user.password_changed_at = now
        user.save(update_fields=["password", "password_changed_at"])
        note_security(SecurityKind.PASSWORD_CHANGED, now=now, about=user)
    return user
