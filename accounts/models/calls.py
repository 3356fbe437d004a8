"""API calls that may be sent twice and must act once."""

from django.db import models

from accounts.models.user import User


class IdempotentCall(models.Model):
    """The answer to a call with an ``Idempotency-Key``, to be given again to the same call.

    ``fingerprint`` tells the same call from another that reuses the key. ``status`` is
    null while the first call is being worked on.
    """

    user = models.ForeignKey(User, models.CASCADE, related_name="+")
    key = models.CharField(max_length=255)
    fingerprint = models.CharField(max_length=64)
    status = models.PositiveSmallIntegerField(null=True)
    body = models.JSONField(null=True)
    created_at = models.DateTimeField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["user", "key"], name="one_call_per_user_and_key"),
        ]

    def __str__(self) -> str:
        return f"{self.key} → {self.status}"
