"""Calls to the API that may be sent twice and must act once."""

from datetime import datetime

from django.utils.translation import gettext as _

from accounts.models import IdempotentCall, Member, User
from shared.basics.refusals import Refused
from shared.basics.transactions import writing


def begin_call(
    *, user: User, key: str, fingerprint: str, now: datetime
) -> tuple[IdempotentCall, bool]:
    """The call with this key, and whether it is new; then it is to be worked on and ended.

    To be called in the transaction of what the call does, so that both happen or neither: of two
    at once the second waits here until the first is through. Refused: idempotency-key-reused;
    idempotency-key-spent, since somebody who has left is not told again what they were told before.
    """
    with writing():
        call, new = IdempotentCall.objects.get_or_create(
            user=user, key=key, defaults={"fingerprint": fingerprint, "created_at": now}
        )
    if call.fingerprint != fingerprint:
        raise Refused(
            "idempotency-key-reused",
            _("This Idempotency-Key was used for another call; please take a new one."),
        )
    if not new and Member.objects.filter(user=user, left_at__gte=call.created_at).exists():
        raise Refused(
            "idempotency-key-spent",
            _("You have left a circle since this was sent first; please take a new key."),
        )
    return call, new


def end_call(*, call: IdempotentCall, status: int, body: object) -> None:
    """Keep the answer to ``call`` for the next time that it is sent; ``body`` must be JSON."""
    with writing():
        call.status, call.body = status, body
        call.save(update_fields=["status", "body"])


def forget_call(*, call: IdempotentCall) -> None:
    """The same call is to act again when it is sent once more: it was refused."""
    with writing():
        IdempotentCall.objects.filter(pk=call.pk).delete()


def forget_calls(*, before: datetime) -> int:
    """Remove the calls made before then, and say how many; sent once more they act once more."""
    with writing():
        count, _kinds = IdempotentCall.objects.filter(created_at__lt=before).delete()
    return count
