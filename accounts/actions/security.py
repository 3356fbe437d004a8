"""What is noted for whoever looks after the site: in rows and on ``mitrewise.security``.

No circle's log tells of it: it is about logins, or about who may do what.
"""

import logging
from datetime import datetime

from accounts.models import SecurityEvent, SecurityKind, User
from shared.basics.limits import LimitReached, spend
from shared.basics.transactions import writing
from shared.telling.logs import asking

logger = logging.getLogger("mitrewise.security")


def note_security(
    kind: SecurityKind, *, now: datetime, about: User | None = None, **facts: object
) -> None:
    """One event; ``facts`` must be JSON, and hold ids, not names.

    What strangers can bring about as often as they like is noted so often from each network
    address, and no more.
    """
    asked = asking()
    address = asked.address if asked else ""
    if kind in STRANGERS and address:
        try:
            spend("security-notes", now=now, address=address)
        except LimitReached:
            return
    with writing():
        SecurityEvent.objects.create(
            kind=kind,
            about=about,
            address=address,
            request=asked.number if asked else "",
            facts=facts,
            at=now,
        )
    told = " ".join(f"{name}={value}" for name, value in facts.items())
    whose = about.pk if about else "-"
    logger.info("%s person=%s address=%s %s", kind.value, whose, address or "-", told)


STRANGERS = {
    SecurityKind.SIGN_IN_FAILED,
    SecurityKind.SIGN_IN_LOCKED,
    SecurityKind.DEAD_KEY_USED,
}


def forget_security_events(*, before: datetime) -> int:
    """Remove what was noted before then, and say how many."""
    with writing():
        count, _tables = SecurityEvent.objects.filter(at__lt=before).delete()
    return count
