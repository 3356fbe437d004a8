"""A way into a circle."""

from __future__ import annotations

from datetime import datetime

from django.db import models
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from accounts.models.circle import Circle
from accounts.models.member import Member
from accounts.models.roles import ANY_ROLE, RoleHolder
from accounts.models.tokens import digest_of
from shared.basics.refusals import Refused


class Standing(models.TextChoices):
    """Whether an invitation still lets somebody in, and if not, why."""

    OPEN = "open", gettext_lazy("open")
    USED = "used", gettext_lazy("used")
    REVOKED = "revoked", gettext_lazy("revoked")
    EXPIRED = "expired", gettext_lazy("expired")


CLOSED = {
    Standing.USED: gettext_lazy(
        "This invitation has been used already, and it was for one person: ask for another."
    ),
    Standing.REVOKED: gettext_lazy(
        "This invitation has been taken back. Ask the person who invited you for another."
    ),
    Standing.EXPIRED: gettext_lazy(
        "This invitation is too old by now. Ask the person who invited you for another."
    ),
}


class InvitationQuerySet(models.QuerySet["Invitation"]):
    """Invitations."""

    def open(self, now: datetime) -> InvitationQuerySet:
        """Those that still let somebody in at ``now``."""
        return self.filter(revoked_at=None, accepted_at=None, expires_at__gt=now)

    def with_token(self, token: str) -> InvitationQuerySet:
        """The invitation whose link holds ``token``, if there is one."""
        return self.filter(digest=digest_of(token))


class Invitation(RoleHolder):
    """Lets the bearer of its link join with its roles until it expires or is revoked.

    With ``email`` or ``member`` it is for one person and works once; otherwise it is a
    link for several people. ``member`` names the paper member who gets a login by it.

    What became of its e-mail, a ``Mail``, is noted here: the mail server has accepted it
    (``mailed_at``) or never will (``mail_failed_at``); ``mail_taken_at`` alone: nobody knows.
    """

    circle = models.ForeignKey(Circle, models.PROTECT, related_name="invitations")
    email = models.EmailField(gettext_lazy("e-mail address"), blank=True)
    member = models.ForeignKey(
        Member, models.PROTECT, related_name="invitations", null=True, blank=True
    )
    digest = models.CharField(max_length=64, unique=True)
    invited_by = models.ForeignKey(Member, models.PROTECT, related_name="invited")
    created_at = models.DateTimeField(gettext_lazy("made"))
    expires_at = models.DateTimeField(gettext_lazy("expires"))
    mail_taken_at = models.DateTimeField(null=True, blank=True)
    mail_failed_at = models.DateTimeField(null=True, blank=True)
    mailed_at = models.DateTimeField(gettext_lazy("e-mailed"), null=True, blank=True)
    revoked_at = models.DateTimeField(gettext_lazy("revoked"), null=True, blank=True)
    accepted_at = models.DateTimeField(gettext_lazy("accepted"), null=True, blank=True)

    objects = InvitationQuerySet.as_manager()

    class Meta:
        ordering = ["-created_at", "-id"]
        constraints = [
            models.CheckConstraint(condition=ANY_ROLE, name="invitation_gives_a_role"),
            models.CheckConstraint(
                condition=models.Q(expires_at__gt=models.F("created_at")),
                name="invitation_expires_after_it_is_made",
            ),
            models.CheckConstraint(
                condition=models.Q(accepted_at=None)
                | ~models.Q(email="")
                | models.Q(member__isnull=False),
                name="only_personal_invitations_are_used_up",
            ),
            models.CheckConstraint(
                # A comparison with nothing would pass for true.
                condition=models.Q(mailed_at=None)
                | models.Q(mail_taken_at__isnull=False, mailed_at__gte=models.F("mail_taken_at")),
                name="invitation_taken_before_it_is_mailed",
            ),
        ]

    def __str__(self) -> str:
        return self.email or _("link %(number)d") % {"number": self.pk}

    @property
    def is_personal(self) -> bool:
        """Whether it is for one person and works once."""
        return bool(self.email) or self.member_id is not None

    def standing(self, now: datetime) -> Standing:
        """How it stands at ``now``; the first reason counts."""
        if self.accepted_at:
            return Standing.USED
        if self.revoked_at:
            return Standing.REVOKED
        return Standing.OPEN if now < self.expires_at else Standing.EXPIRED

    def refusal(self, now: datetime) -> Refused | None:
        """Why it lets nobody in at ``now``; None while it is open."""
        standing = self.standing(now)
        if standing is Standing.OPEN:
            return None
        return Refused(f"invitation-{standing}", str(CLOSED[standing]))
