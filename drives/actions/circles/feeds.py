"""The addresses for calendar programs. They are their owner's alone, so no log tells of them."""

import secrets
from datetime import datetime

from accounts.actions.locks import hold_member
from accounts.models import Member, digest_of
from drives.models import Feed
from shared.basics.transactions import writing


def make_feed(*, member: Member, now: datetime) -> str:
    """A new secret, which can be told only now; the address before it answers no more."""
    secret = secrets.token_urlsafe(32)
    with writing():
        member = hold_member(member)  # so that two who ask at once queue up
        revoke_feed(member=member, now=now)
        Feed.objects.create(member=member, digest=digest_of(secret), made_at=now)
    return secret


def revoke_feed(*, member: Member, now: datetime) -> bool:
    """The member's address answers no more; False if there was none."""
    with writing():
        return Feed.objects.filter(member=member, revoked_at=None).update(revoked_at=now) > 0
