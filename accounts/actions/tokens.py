"""Keys to the API. They are their owner's alone, so no circle's log tells of them."""

import secrets
from datetime import datetime

from accounts.models import ApiToken, User, digest_of
from shared.transactions import writing

SHOWN = 6
"""How many characters of a key stay readable, for its owner to recognise it by."""


def make_token(*, user: User, name: str, now: datetime) -> tuple[ApiToken, str]:
    """A new token and its key, which can be told only now."""
    key = secrets.token_urlsafe(32)
    with writing():
        token = ApiToken.objects.create(
            user=user, name=name, digest=digest_of(key), prefix=key[:SHOWN], created_at=now
        )
    return token, key


def revoke_token(*, token: ApiToken, now: datetime) -> ApiToken:
    """The token, which opens nothing from now on; one already revoked keeps its date."""
    with writing():
        ApiToken.objects.filter(pk=token.pk, revoked_at=None).update(revoked_at=now)
        token.refresh_from_db()
    return token
