"""How people come into a circle."""

import secrets
from collections.abc import Collection
from datetime import datetime, timedelta
from typing import NamedTuple

from django.conf import settings
from django.db.models import Q
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone, translation
from django.utils.translation import gettext as _

from accounts.actions.limits import spend_by
from accounts.actions.locks import hold_circle
from accounts.actions.mails import queue_mail
from accounts.actions.notes import note_event
from accounts.models import Event, Invitation, Member, Role, Standing, User, digest_of
from accounts.models.invitation import CLOSED
from shared.basics.refusals import Refused
from shared.basics.totals import require_room
from shared.basics.transactions import writing


class Invited(NamedTuple):
    """A new invitation and the token for its link, which can be told only now."""

    invitation: Invitation
    token: str


def invite_person(
    *,
    by: Member,
    roles: Collection[Role],
    days: int,
    now: datetime,
    email: str = "",
    member: Member | None = None,
) -> Invited:
    """An invitation into ``by``'s circle, open for ``days`` days.

    With ``email`` it is sent there once this is committed, if ``by`` has a proven address: somebody
    must answer for what the site sends to strangers. With ``member``, a paper member, it gives
    them a login.
    """
    if not set(roles) <= by.may_give:
        raise Refused("not-yours-to-give", _("Only an organiser can give these roles."))
    if member and not member.is_paper:
        raise Refused(
            "has-a-login", _("%(name)s already has a login here.") % {"name": member.name}
        )
    of = {"receiver": email.lower()} if email else {}
    if email and not (by.user and by.user.has_proven_address):
        raise Refused(
            "address-not-proven",
            _(
                "Before the site writes to others for you, confirm your own email address, under "
                "“Me”. A link to give to people yourself you can have now."
            ),
        )
    spend_by(by, "invitations", now, 1, **of)
    token = secrets.token_urlsafe(32)
    with writing():
        require_room("invitations", Invitation.objects.open(now).filter(circle=by.circle))
        invitation = Invitation(
            circle=by.circle,
            email=email,
            member=member,
            digest=digest_of(token),
            invited_by=by,
            created_at=now,
            expires_at=now + timedelta(days=days),
        )
        invitation.set_roles(roles)
        invitation.save(force_insert=True)
        facts = {"invitation": invitation.pk, "roles": sorted(roles), "days": days}
        note_event(by, "invited", facts, now)
        if email:
            mail_invitation(invitation=invitation, token=token, now=now)
    return Invited(invitation, token)


def mail_invitation(*, invitation: Invitation, token: str, now: datetime) -> None:
    """Have it e-mailed to its address, in the words and by the clock of the circle."""
    circle = invitation.circle
    with translation.override(circle.locale), timezone.override(circle.time_zone):
        facts = {
            "invitation": invitation,
            "link": settings.SITE_URL + reverse("accounts:join", args=[token]),
        }
        heading = render_to_string("accounts/mail/invitation_subject.txt", facts)
        body = render_to_string("accounts/mail/invitation.txt", facts)
    queue_mail(to=invitation.email, heading=heading, body=body, invitation=invitation, now=now)


def revoke_invitation(*, invitation: Invitation, by: Member, now: datetime) -> Invitation:
    """The invitation, by which nobody comes in from now on; those who came stay."""
    with writing():
        hold_circle(invitation.circle_id)
        invitation.refresh_from_db()
        if invitation.revoked_at is not None:
            return invitation
        if invitation.accepted_at is not None:
            raise Refused(
                "invitation-used",
                _("This invitation has already been used. You can remove whoever joined by it."),
            )
        invitation.revoked_at = now
        invitation.save(update_fields=["revoked_at"])
        note_event(by, "invitation-revoked", {"invitation": invitation.pk}, now)
    return invitation


def end_invitations(*, of: Member, now: datetime) -> None:
    """Revoke what must not outlast the roles that ``of`` has lost; their circle must be held.

    That is: what they have made and may not make any more; the link by which they came, which they
    still know, where it gives more than they have now; and once they have left, what is for them.
    """
    opened = Invitation.objects.open(now)
    ending = [made.pk for made in opened.filter(invited_by=of) if not made.roles <= of.may_give]
    if of.left_at is not None:
        ending += opened.filter(member=of).values_list("pk", flat=True)
    came = Event.objects.filter(by=of, verb="joined").first()
    link = opened.filter(pk=came.facts["invitation"]).first() if came else None
    if link and (of.left_at is not None or link.roles - of.roles - {Role.VOLUNTEER}):
        ending.append(link.pk)
    opened.filter(pk__in=ending).update(revoked_at=now)


def accept_invitation(*, invitation: Invitation, user: User, hand: str, now: datetime) -> Member:
    """The membership of ``user``, with this hand; whoever is in already stays as they are."""
    with writing():
        circle = hold_circle(invitation.circle_id)
        invitation.refresh_from_db()
        former = Member.objects.filter(circle=circle, user=user).first()
        if former and former.left_at is None:
            return former
        if refusal := invitation.refusal(now) or _refusal_of_giver(invitation):
            raise refusal
        if former and former.left_at and invitation.created_at < former.left_at:
            raise Refused(
                "left-since",
                _("You have left this circle since this invitation was made: ask for a new one."),
            )
        member = _seat(invitation, user, former, now)
        member.hand = hand
        roles = member.set_roles(invitation.roles)
        if member.pk is None:
            require_room("members", circle.members.all())
            member.save(force_insert=True)
        else:
            member.save(update_fields=["user", "note", "joined_at", "left_at", "hand", *roles])
        if invitation.is_personal:
            invitation.accepted_at = now
            invitation.save(update_fields=["accepted_at"])
            Invitation.objects.open(now).filter(member=member).update(revoked_at=now)
        facts = {"member": member.pk, "invitation": invitation.pk}
        note_event(member, "joined", facts, now)
    return member


def _refusal_of_giver(invitation: Invitation) -> Refused | None:
    """Taken back, where its maker has left or may no longer give its roles."""
    giver = Member.objects.get(pk=invitation.invited_by_id)
    if invitation.roles <= giver.may_give:
        return None
    return Refused(f"invitation-{Standing.REVOKED}", str(CLOSED[Standing.REVOKED]))


def _seat(invitation: Invitation, user: User, former: Member | None, now: datetime) -> Member:
    """The row for ``user``, unsaved: the paper member, the member they were, or a new one."""
    paper = invitation.member
    if paper and former:
        raise Refused(
            "was-here-before",
            _(
                "You have been in this circle before, under another entry: "
                "ask for an invitation that is not made out to %(name)s."
            )
            % {"name": paper.name},
        )
    member = paper or former or Member(circle=invitation.circle, name=user.name, joined_at=now)
    member.user, member.note = user, ""
    if member.left_at is not None:
        member.joined_at, member.left_at = now, None
    return member


def forget_invitations(*, before: datetime) -> int:
    """Remove those that had been accepted, revoked or over by then, and say how many."""
    over = Q(accepted_at__lt=before) | Q(revoked_at__lt=before) | Q(expires_at__lt=before)
    with writing():
        count, _each = Invitation.objects.filter(over).delete()
    return count
