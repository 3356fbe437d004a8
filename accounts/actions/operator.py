"""What whoever runs the site does with a login: the security log tells of it, no circle's."""

from datetime import datetime, timedelta

from accounts.actions.invitations import Invited, invite_person, revoke_invitation
from accounts.actions.security import note_security
from accounts.models import Invitation, SecurityKind, User
from shared.basics.transactions import writing

AGAIN_FOR = timedelta(days=14)


def enable_person(*, user: User, enabled: bool, now: datetime) -> User:
    """Whether they may sign in; if not, their keys, calendars and sessions open nothing."""
    kind = SecurityKind.ENABLED if enabled else SecurityKind.DISABLED
    with writing():
        changed = User.objects.filter(pk=user.pk, is_active=not enabled).update(is_active=enabled)
        if changed:
            note_security(kind, now=now, about=user)
        user.is_active = enabled
    return user


def invite_again(*, invitation: Invitation, now: datetime) -> Invited:
    """A new invitation in the name of whoever made this one, which ends."""
    with writing():
        by = invitation.invited_by
        revoke_invitation(invitation=invitation, by=by, now=now)
        return invite_person(
            by=by,
            roles=invitation.roles,
            days=AGAIN_FOR.days,
            now=now,
            email=invitation.email,
            member=invitation.member,
        )
