"""Whoever wants to be forgotten."""

from datetime import datetime

from django.utils.translation import gettext as _

from accounts import belongings
from accounts.actions.locks import hold_circle
from accounts.actions.members import remove_member
from accounts.actions.notes import note_event
from accounts.actions.security import note_security
from accounts.models import Event, Invitation, Mail, Member, SecurityKind, User
from shared.basics.refusals import Refused
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


def forget_member(*, member: Member, by: Member, now: datetime) -> Member:
    """The member, as “a former member”: somebody on paper, or somebody who has left.

    Somebody on paper leaves by that. A login is its owner's alone: it stays, and so do their other
    circles. Refused (has-a-login) while they are in the circle with a login.
    """
    with writing():
        hold_circle(member.circle_id)
        member.refresh_from_db()
        if Member.objects.filter(pk=member.pk, name="").exists():
            return member
        if member.left_at is None and not member.is_paper:
            raise Refused(
                "has-a-login",
                _("%(name)s has a login: they can delete their account, or leave the circle first.")
                % {"name": member.name},
            )
        member = remove_member(member=member, by=by, now=now)
        _forget(member)
        note_event(by, "member-forgotten", {"member": member.pk}, now)
        member.refresh_from_db()
    return member


def _forget(member: Member) -> None:
    """What concerns nobody else goes; what they knitted stays, without their name."""
    for table, key in belongings.theirs_alone():
        table._base_manager.filter(**{key: member.pk}).delete()
    Invitation.objects.filter(member=member).delete()
    Event.objects.forget_name(member)
    member.user, member.name, member.note, member.may_be_named = None, "", "", False
    member.save(update_fields=["user", "name", "note", "may_be_named"])
