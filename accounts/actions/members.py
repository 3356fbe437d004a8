"""Who is in a circle, with which roles."""

from collections.abc import Collection
from datetime import datetime

from django.utils.translation import gettext as _

from accounts.actions.invitations import end_invitations
from accounts.actions.locks import hold_circle
from accounts.actions.names import require_plain
from accounts.actions.notes import note_event
from accounts.actions.security import note_security
from accounts.models import Member, Role, SecurityKind, User
from shared.basics.changes import save_changed
from shared.basics.refusals import Refused
from shared.basics.totals import require_room
from shared.basics.transactions import writing


def add_paper_member(
    *, by: Member, name: str, reach: str, hand: str, now: datetime, may_be_named: bool = False
) -> Member:
    """A volunteer of ``by``'s circle without a login; ``reach`` says how to get hold of them.

    ``may_be_named``: they agreed that the receivers of blankets read their name.
    """
    require_plain(name)
    with writing():
        require_room("members", Member.objects.filter(circle=by.circle))
        member = Member.objects.create(
            circle=by.circle,
            name=name,
            note=reach,
            hand=hand,
            may_be_named=may_be_named,
            is_volunteer=True,
            joined_at=now,
        )
        note_event(by, "member-added", {"member": member.pk}, now)
    return member


def change_member(
    *,
    member: Member,
    by: Member,
    name: str,
    reach: str,
    hand: str,
    now: datetime,
    may_be_named: bool | None = None,
) -> Member:
    """The member with this name, way to reach them and hand; None leaves what they agreed to."""
    require_plain(name)
    wanted: dict[str, str | bool] = {"name": name, "note": reach, "hand": hand}
    if may_be_named is not None:
        wanted["may_be_named"] = may_be_named
    with writing():
        hold_circle(member.circle_id)
        member = _present(member)
        if changed := save_changed(member, wanted):
            note_event(by, "member-changed", {"member": member.pk, "changed": changed}, now)
    return member


def name_person(*, user: User, name: str) -> User:
    """The user with this name, as they sign up; in no circle yet, so no log tells of it."""
    require_plain(name)
    with writing():
        User.objects.filter(pk=user.pk).update(name=name)
        user.name = name
    return user


def change_person(
    *, user: User, name: str, hand: str, now: datetime, named_in: Collection[int] | None = None
) -> User:
    """The user with this name and hand, in all their circles too.

    In the circles ``named_in``, by id, and in no others, receivers may read the name; None leaves
    that as it is.
    """
    with writing():
        name_person(user=user, name=name)
        # In the order of their circles, so that two such changes never wait for each other.
        for member in user.memberships.present().order_by("circle_id").select_related("circle"):
            change_member(
                member=member,
                by=member,
                name=name,
                reach=member.note,
                hand=hand,
                now=now,
                may_be_named=None if named_in is None else member.circle_id in named_in,
            )
    return user


def change_roles(*, member: Member, by: Member, roles: Collection[Role], now: datetime) -> Member:
    """The member with exactly these roles; Refused if that leaves nobody to organise.

    Open invitations end that they made and may not make any more.
    """
    with writing():
        hold_circle(member.circle_id)
        member = _present(member)
        before = member.roles
        if before == set(roles):
            return member
        if not roles:
            raise Refused("no-role", _("Choose at least one role, or let them leave the circle."))
        if member.is_paper and set(roles) != {Role.VOLUNTEER}:
            raise Refused(
                "needs-a-login",
                _("%(name)s has no login, and organising needs one: invite them first.")
                % {"name": member.name},
            )
        if Role.ORGANISER not in roles:
            _keep_an_organiser(member)
        member.save(update_fields=member.set_roles(roles))
        end_invitations(of=member, now=now)
        facts = {"member": member.pk, "from": sorted(before)}
        note_event(by, "roles-changed", {**facts, "to": sorted(roles)}, now)
        changed = {"circle": member.circle_id, "by": by.user_id, "to": sorted(roles)}
        note_security(SecurityKind.ROLES_CHANGED, now=now, about=member.user, **changed)
    return member


def remove_member(*, member: Member, by: Member, now: datetime) -> Member:
    """The member, who has now left: of their own will if ``by`` is the member.

    Their name stays in the log and with their squares; how to reach them is forgotten. The
    invitations end that are for them or that they made, and the link by which they came. Refused
    if nobody would be left to organise.
    """
    with writing():
        hold_circle(member.circle_id)
        member.refresh_from_db()
        if member.left_at is not None:
            return member
        _keep_an_organiser(member)
        member.left_at, member.note = now, ""
        member.save(update_fields=["left_at", "note", *member.set_roles([])])
        end_invitations(of=member, now=now)
        verb = "left" if member.pk == by.pk else "member-removed"
        note_event(by, verb, {"member": member.pk}, now)
        if verb != "left":
            where = {"circle": member.circle_id, "by": by.user_id}
            note_security(SecurityKind.MEMBER_REMOVED, now=now, about=member.user, **where)
    return member


def leave_circle(*, member: Member, now: datetime, successor: Member | None = None) -> Member:
    """The member, who has left; ``successor`` organises the circle from then on.

    Refused: as by ``remove_member`` and ``change_roles``.
    """
    with writing():
        if successor:
            roles = successor.roles | {Role.ORGANISER}
            change_roles(member=successor, by=member, roles=roles, now=now)
        return remove_member(member=member, by=member, now=now)


def require_present(member: Member) -> None:
    """Refused (member-has-left) if they are no longer in the circle."""
    if member.left_at is not None:
        text = _("%(name)s is no longer in the circle.") % {"name": member.name}
        raise Refused("member-has-left", text)


def _present(member: Member) -> Member:
    """The row as it is now that the circle is held. Refused: member-has-left."""
    member = Member.objects.get(pk=member.pk)
    require_present(member)
    return member


def _keep_an_organiser(member: Member) -> None:
    """Refused if ``member`` is the only organiser; the circle must be held."""
    others = Member.objects.organisers().filter(circle_id=member.circle_id).exclude(pk=member.pk)
    if member.is_organiser and not others.exists():
        raise Refused(
            "last-organiser",
            _(
                "%(name)s is the only organiser here, and a circle needs one: "
                "make somebody else an organiser first, or close the circle."
            )
            % {"name": member.name},
        )
