"""Whoever wants to be forgotten."""

from datetime import datetime

from accounts import belongings
from accounts.actions.members import remove_member
from accounts.actions.security import note_security
from accounts.models import Invitation, Mail, Member, SecurityKind, User
from shared.basics.transactions import writing


def delete_person(*, user: User, now: datetime) -> None:
    """Nothing is left of ``user`` but what they knitted and did, as by “a former member”.

    They leave all their circles; address, password, keys, days away and letters go. Refused
    (last-organiser) while a circle has nobody else to organise it.
    """
    with writing():
        # In the order of their circles, so that two such changes never wait for each other.
        for member in user.memberships.order_by("circle_id").select_related("circle"):
            remove_member(member=member, by=member, now=now)
            _forget(member)
        Invitation.objects.filter(email__iexact=user.email).delete()
        Mail.objects.filter(to__iexact=user.email).delete()
        note_security(SecurityKind.ACCOUNT_DELETED, now=now, person=user.pk)
        User.objects.filter(pk=user.pk).delete()


def _forget(member: Member) -> None:
    """What concerns nobody else goes; what they knitted stays, without their name."""
    for table, key in belongings.theirs_alone():
        table._base_manager.filter(**{key: member.pk}).delete()
    member.user, member.name, member.note, member.may_be_named = None, "", "", False
    member.save(update_fields=["user", "name", "note", "may_be_named"])
