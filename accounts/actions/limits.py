"""What is dear counts by whoever asks and by their circle."""

from datetime import datetime

from accounts.models import Member
from shared.basics.limits import spend


def spend_by(by: Member, what: str, now: datetime, times: int = 1, **more: str) -> None:
    """Count so many more ``what`` of the person in all their circles, of this one, and of ``more``.

    Raises LimitReached.
    """
    person = f"user {by.user_id}" if by.user_id else f"member {by.pk}"
    spend(what, now=now, times=times, person=person, circle=by.circle_id, **more)
