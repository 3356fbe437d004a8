"""Being signed in, browser by browser. A matter of one's own, so no circle's log tells of it."""

from datetime import datetime, timedelta

from django.contrib.sessions.backends.base import SessionBase

from accounts.models import Session, User
from accounts.sessions import BEGUN, BROWSER, SEEN, SHARED
from shared.basics.transactions import writing

LONGEST = timedelta(days=90)
IDLE_WHERE_SHARED = timedelta(hours=1)
SEEN_NOTED_EVERY = timedelta(minutes=10)


def begin_session(*, session: SessionBase, browser: str, now: datetime) -> None:
    """Note in the session of somebody who signs in when that was, and in which browser."""
    session[BEGUN] = session[SEEN] = now.timestamp()
    session[BROWSER] = browser[:200]


def share_session(*, session: SessionBase) -> None:
    """It is a computer that others use: the session ends with the browser, or soon when idle."""
    session[SHARED] = True
    session.set_expiry(0)


def keep_session(*, session: SessionBase, now: datetime) -> None:
    """Note that it is used, now and then; or end it, where it was idle or has lasted too long.

    Where the computer is not shared, ``SESSION_COOKIE_AGE`` without use is its end.
    """
    seen = session.get(SEEN)
    if seen is None:
        return
    # Seen in a time to come, as after a clock was put back, it was idle nobody knows how long.
    idle = timedelta(seconds=abs(now.timestamp() - seen))
    if now.timestamp() - session[BEGUN] >= LONGEST.total_seconds() or (
        session.get(SHARED) and idle >= IDLE_WHERE_SHARED
    ):
        session.flush()
    elif idle >= SEEN_NOTED_EVERY:
        session[SEEN] = now.timestamp()
        session[BEGUN] = min(session[BEGUN], session[SEEN])


def end_session(*, session: Session) -> None:
    """Whoever uses this browser must sign in again."""
    with writing():
        Session.objects.filter(pk=session.pk).delete()


def end_other_sessions(*, user: User, kept: str | None) -> int:
    """How many sessions of ``user`` have ended now: all but the one with the key ``kept``."""
    with writing():
        ended, _kinds = Session.objects.filter(user=user).exclude(session_key=kept).delete()
    return ended
