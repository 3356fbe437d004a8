"""The only way to a circle's rows: strangers get 404, members without the role 403."""

from __future__ import annotations

from django.contrib.auth.base_user import AbstractBaseUser
from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.http import Http404
from django.utils.translation import gettext as _

from accounts.models import Member, Role


def member_of(user: AbstractBaseUser | AnonymousUser, circle_id: int) -> Member:
    """The user's membership, with its circle loaded; Http404 if they are not in it (any more)."""
    member = None
    if user.is_authenticated:
        members = Member.objects.present().select_related("circle")
        member = members.filter(user_id=user.pk, circle_id=circle_id).first()
    if member is None:
        raise Http404
    return member


def may(member: Member, *roles: Role) -> bool:
    """Whether the member has one of the roles; organisers may do all that coordinators may."""
    held = member.roles
    if Role.ORGANISER in held:
        held.add(Role.COORDINATOR)
    return not held.isdisjoint(roles)


def require(member: Member, *roles: Role) -> None:
    """PermissionDenied unless the member has one of the roles."""
    if not may(member, *roles):
        raise PermissionDenied(_("Your role in this circle does not allow this."))
