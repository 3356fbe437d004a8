"""Keys to the API. They are their owner's alone, so no circle's log tells of them."""

import secrets
from datetime import datetime, timedelta

from accounts.actions.security import note_security
from accounts.models import ApiToken, SecurityKind, User, digest_of
from shared.basics.limits import spend
from shared.basics.totals import require_room
from shared.basics.transactions import writing

SHOWN = 6
"""How many characters of a key stay readable, for its owner to recognise it by."""

LONGEST_DAYS = 365
USE_NOTED_EVERY = timedelta(minutes=1)


def make_token(
    *,
    user: User,
    name: str,
    now: datetime,
    days: int = LONGEST_DAYS,
    read_only: bool = False,
    second_step: bool = False,
) -> tuple[ApiToken, str]:
    """A new token for so many days and its key, which can be told only now. Raises LimitReached.

    ``second_step``: whether ``user`` has one, and so gave it to sign in.
    """
    spend("keys", now=now, person=f"user {user.pk}")
    key = secrets.token_urlsafe(32)
    with writing():
        require_room("keys", ApiToken.objects.live(now).filter(user=user))
        token = ApiToken.objects.create(
            user=user,
            name=name,
            digest=digest_of(key),
            prefix=key[:SHOWN],
            read_only=read_only,
            second_step=second_step,
            created_at=now,
            expires_at=now + timedelta(days=days),
        )
        note_security(SecurityKind.KEY_MADE, now=now, about=user, key=token.pk)
    return token, key


def revoke_token(*, token: ApiToken, now: datetime) -> ApiToken:
    """The token, which opens nothing from now on; one already revoked keeps its date."""
    with writing():
        if ApiToken.objects.filter(pk=token.pk, revoked_at=None).update(revoked_at=now):
            note_security(SecurityKind.KEY_REVOKED, now=now, about=token.user, key=token.pk)
        token.refresh_from_db()
    return token


def use_token(*, key: str, now: datetime) -> ApiToken | None:
    """The live token that ``key`` belongs to, with its user; None if there is none.

    That it was used is noted once a minute: a call that only reads should not write each time.
    """
    try:
        token = ApiToken.objects.live(now).with_key(key).select_related("user").get()
    except ApiToken.DoesNotExist:
        dead = ApiToken.objects.with_key(key).select_related("user").first()
        if dead:
            note_security(SecurityKind.DEAD_KEY_USED, now=now, about=dead.user, key=dead.pk)
        return None
    if token.last_used_at is None or abs(now - token.last_used_at) >= USE_NOTED_EVERY:
        with writing():
            unchanged = ApiToken.objects.filter(pk=token.pk, last_used_at=token.last_used_at)
            unchanged.update(last_used_at=now)
    return token
