"""What an operator wants to read when somebody was, or may have been, where they should not be."""

from django.db import models

from accounts.models.user import User


class SecurityKind(models.TextChoices):
    """What happened."""

    SIGN_IN_FAILED = "sign-in-failed"
    SIGN_IN_LOCKED = "sign-in-locked"
    PASSWORD_CHANGED = "password-changed"  # noqa: S105 - no password
    KEY_MADE = "key-made"
    KEY_REVOKED = "key-revoked"
    DEAD_KEY_USED = "dead-key-used"
    ROLES_CHANGED = "roles-changed"
    MEMBER_REMOVED = "member-removed"
    ACCOUNT_DELETED = "account-deleted"
    DISABLED = "disabled"
    ENABLED = "enabled"


class SecurityEvent(models.Model):
    """``about`` is whose login or membership it concerns; None where nobody is known.

    ``address`` is that of the network, and ``request`` the number that lines of the log have.
    ``facts`` hold ids and codes, neither names nor addresses of e-mail.
    """

    kind = models.CharField(max_length=20, choices=SecurityKind)
    about = models.ForeignKey(User, models.CASCADE, null=True, related_name="+")
    address = models.CharField(max_length=45, blank=True)
    request = models.CharField(max_length=12, blank=True)
    facts = models.JSONField(default=dict)
    at = models.DateTimeField(db_index=True)

    class Meta:
        ordering = ["-id"]

    def __str__(self) -> str:
        return f"{self.kind} {self.about_id}"
