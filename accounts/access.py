"""The only way to a circle's rows: strangers get 404, members without the role 403.

The loaders also settle whose words and clock the rest of the request uses.
"""

from __future__ import annotations

from datetime import datetime

from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.utils import timezone, translation
from django.utils.translation import gettext as _

from accounts.models import ApiToken, Circle, Invitation, Member, Role, Session, User


def read_as(circle: Circle) -> None:
    """Use the circle's words and clock for the rest of this request."""
    translation.activate(circle.locale)
    timezone.activate(circle.time_zone)


def memberships_of(user: User) -> list[Member]:
    """The user's memberships with their circles, by name; reads as the first of them."""
    present = Member.objects.present().filter(user=user).select_related("circle")
    members = list(present.order_by("circle__name", "circle_id"))
    if members:
        read_as(members[0].circle)
    return members


def member_of(user: User | AnonymousUser, circle_id: int) -> Member:
    """The user's membership, with its circle; Http404 if they are not in it (any more)."""
    if not user.is_authenticated:
        raise Http404
    try:
        members = Member.objects.present().select_related("circle")
        member = members.get(user_id=user.pk, circle_id=circle_id)
    except Member.DoesNotExist:
        raise Http404 from None
    read_as(member.circle)
    return member


def fellow_of(me: Member, member_id: int) -> Member:
    """Another present member of ``me``'s circle; Http404 if there is none with this id."""
    fellow = me.circle.members.present().filter(pk=member_id).first()
    if fellow is None:
        raise Http404
    return fellow


def forgettable_of(me: Member, member_id: int) -> Member:
    """Somebody who is or was in ``me``'s circle, still by name; Http404 if none has this id."""
    found = me.circle.members.exclude(name="").filter(pk=member_id).first()
    if found is None:
        raise Http404
    return found


def invitation_of(me: Member, invitation_id: int) -> Invitation:
    """An invitation of ``me``'s circle; Http404 if there is none with this id."""
    invitation = me.circle.invitations.select_related("member").filter(pk=invitation_id).first()
    if invitation is None:
        raise Http404
    return invitation


def token_of(user: User, token_id: int, now: datetime) -> ApiToken:
    """A live key of the user's own; Http404 if there is none with this id."""
    token = user.api_tokens.live(now).filter(pk=token_id).first()
    if token is None:
        raise Http404
    return token


def session_of(user: User, mark: str, now: datetime) -> Session:
    """A session of the user's own that has not ended; Http404 if none has this mark."""
    for session in Session.objects.live(now).filter(user=user):
        if session.mark == mark:
            return session
    raise Http404


def may(member: Member, *roles: Role) -> bool:
    """Whether the member has one of the roles; organisers may do all that coordinators may."""
    held = member.roles
    if Role.ORGANISER in held:
        held.add(Role.COORDINATOR)
    return not held.isdisjoint(roles)


def acts_for(by: Member, member_id: int | None) -> bool:
    """Whether ``by`` may do what is this member's to do: it is theirs, or they look after others.

    None is the circle itself, for which coordinators act.
    """
    return by.pk == member_id or may(by, Role.COORDINATOR)


def require(member: Member, *roles: Role) -> None:
    """PermissionDenied unless the member has one of the roles."""
    if not may(member, *roles):
        raise PermissionDenied(_("Your role in this circle does not allow this."))


def require_to_act_for(me: Member, member_id: int) -> None:
    """PermissionDenied unless ``me`` may do what is this member's to do."""
    if not acts_for(me, member_id):
        raise PermissionDenied(_("Your role in this circle does not allow this."))


def require_over(me: Member, fellow: Member) -> None:
    """PermissionDenied unless ``me`` may change ``fellow``'s entry.

    Coordinators look after paper members, organisers after everybody.
    """
    require(me, Role.COORDINATOR if fellow.is_paper else Role.ORGANISER)


def require_to_give(me: Member, roles: set[Role]) -> None:
    """PermissionDenied unless ``me`` may give all these roles, and so take them back."""
    if not roles <= me.may_give:
        raise PermissionDenied(_("Only an organiser may do this."))
