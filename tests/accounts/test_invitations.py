"""Inviting people, taking it back, coming in."""

from datetime import timedelta

import pytest

from accounts import actions
from accounts.models import Event, Invitation, Member, Role, Standing, User, digest_of
from drives.craft.knitter import Hand
from tests.cast import DAY, NOW, Cast, login, open_link
from tests.desk import nothing_changes, refused

USED = "This invitation has been used already, and it was for one person: ask for another."
REVOKED = "This invitation has been taken back. Ask the person who invited you for another."
EXPIRED = "This invitation is too old by now. Ask the person who invited you for another."


def accept(invitation: Invitation, user: User, after: timedelta = DAY) -> Member:
    return actions.accept_invitation(
        invitation=invitation, user=user, hand=Hand.LEFT, now=NOW + after
    )


def invite_paul(cast: Cast, by: Member | None = None) -> Invitation:
    return actions.invite_person(
        by=by or cast.olga, roles=[Role.VOLUNTEER], days=14, now=NOW, member=cast.paul
    ).invitation


def invite_by_mail(cast: Cast) -> Invitation:
    return actions.invite_person(
        by=cast.olga,
        roles=[Role.VOLUNTEER],
        days=14,
        now=NOW,
        email="nora@example.org",
    ).invitation


def test_the_token_is_told_once_and_only_its_digest_is_kept(cast: Cast) -> None:
    invitation, token = actions.invite_person(
        by=cast.olga, roles=[Role.COORDINATOR], days=3, now=NOW
    )
    invitation.refresh_from_db()
    assert invitation.digest == digest_of(token)
    assert token not in str(Invitation.objects.filter(pk=invitation.pk).values().get())
    assert Invitation.objects.with_token(token).get() == invitation
    assert (invitation.roles, invitation.expires_at) == ({Role.COORDINATOR}, NOW + 3 * DAY)
    event = Event.objects.latest("pk")
    assert event.verb == "invited"
    assert event.facts == {"invitation": invitation.pk, "roles": ["coordinator"], "days": 3}


def test_the_log_does_not_hold_the_address(cast: Cast) -> None:
    invite_by_mail(cast)
    assert "nora" not in str(Event.objects.latest("pk").facts)


@pytest.mark.parametrize(
    ("who", "role"),
    [
        ("cora", Role.ORGANISER),
        ("cora", Role.COORDINATOR),
        ("vera", Role.VOLUNTEER),
    ],
)
def test_nobody_gives_a_role_that_is_not_theirs_to_give(cast: Cast, who: str, role: Role) -> None:
    with refused("not-yours-to-give", "Only an organiser can give these roles."):
        open_link(getattr(cast, who), role)


def test_a_coordinator_brings_in_volunteers(cast: Cast) -> None:
    nora = accept(open_link(cast.cora, Role.VOLUNTEER), login("Nora"))
    assert nora.roles == {Role.VOLUNTEER}


def test_accepting_makes_a_member_with_the_invitations_roles(cast: Cast) -> None:
    invitation = open_link(cast.olga, Role.COORDINATOR, Role.VOLUNTEER)
    nora = accept(invitation, login("Nora"))
    nora.refresh_from_db()
    assert nora.circle == cast.circle
    assert (nora.name, nora.hand, nora.joined_at) == ("Nora", "left", NOW + DAY)
    assert nora.roles == {Role.COORDINATOR, Role.VOLUNTEER}
    event = Event.objects.latest("pk")
    assert (event.by, event.verb) == (nora, "joined")
    assert event.facts == {"member": nora.pk, "invitation": invitation.pk}


def test_a_link_lets_several_people_in(cast: Cast) -> None:
    invitation = open_link(cast.olga, Role.VOLUNTEER)
    accept(invitation, login("Nora"))
    accept(invitation, login("Ned"))
    assert set(cast.circle.members.values_list("name", flat=True)) >= {"Nora", "Ned"}


def test_an_invitation_by_mail_works_once(cast: Cast) -> None:
    invitation = invite_by_mail(cast)
    accept(invitation, login("Nora"))
    ned = login("Ned")
    with refused("invitation-used", USED):
        accept(invitation, ned)


def test_a_member_who_opens_an_invitation_stays_as_they_are(cast: Cast) -> None:
    invitation = invite_by_mail(cast)
    assert cast.olga.user
    with nothing_changes():
        assert accept(invitation, cast.olga.user) == cast.olga


def test_a_revoked_invitation_lets_nobody_in(cast: Cast) -> None:
    invitation = open_link(cast.olga, Role.VOLUNTEER)
    actions.revoke_invitation(invitation=invitation, by=cast.olga, now=NOW + DAY)
    assert Event.objects.latest("pk").verb == "invitation-revoked"
    nora = login("Nora")
    with refused("invitation-revoked", REVOKED):
        accept(invitation, nora)


def test_an_invitation_ends_at_its_expiry(cast: Cast) -> None:
    nora, ned = login("Nora"), login("Ned")
    invitation = open_link(cast.olga, Role.VOLUNTEER, days=3)
    accept(invitation, nora, after=3 * DAY - timedelta(seconds=1))
    with refused("invitation-expired", EXPIRED):
        accept(invitation, ned, after=3 * DAY)


def test_revoking_twice_changes_nothing(cast: Cast) -> None:
    invitation = open_link(cast.olga, Role.VOLUNTEER)
    actions.revoke_invitation(invitation=invitation, by=cast.olga, now=NOW)
    with nothing_changes():
        actions.revoke_invitation(invitation=invitation, by=cast.olga, now=NOW + DAY)


def test_a_used_invitation_cannot_be_revoked(cast: Cast) -> None:
    invitation = invite_by_mail(cast)
    accept(invitation, login("Nora"))
    with refused(
        "invitation-used",
        "This invitation has already been used. You can remove whoever joined by it.",
    ):
        actions.revoke_invitation(invitation=invitation, by=cast.olga, now=NOW + DAY)


def test_who_has_left_comes_back_as_the_same_member(cast: Cast) -> None:
    actions.remove_member(member=cast.vera, by=cast.vera, now=NOW)
    assert cast.vera.user
    again = accept(open_link(cast.olga, Role.COORDINATOR), cast.vera.user)
    again.refresh_from_db()
    assert again.pk == cast.vera.pk
    assert (again.left_at, again.joined_at) == (None, NOW + DAY)
    assert again.roles == {Role.COORDINATOR}


def test_a_paper_member_gets_a_login_and_stays_themself(cast: Cast) -> None:
    someone = login("Pavel")
    member = accept(invite_paul(cast), someone)
    member.refresh_from_db()
    assert (member.pk, member.name, member.user) == (cast.paul.pk, "Paul", someone)
    assert member.note == ""


def test_a_paper_members_other_invitations_end_when_one_is_used(cast: Cast) -> None:
    first, second = invite_paul(cast), invite_paul(cast, by=cast.cora)
    accept(first, login("Pavel"))
    first.refresh_from_db()
    assert first.standing(NOW + DAY) is Standing.USED
    other = login("Pia")
    with refused("invitation-revoked", REVOKED):
        accept(second, other)


def test_who_has_a_login_needs_no_other(cast: Cast) -> None:
    with refused("has-a-login", "Vera already has a login here."):
        actions.invite_person(
            by=cast.olga, roles=[Role.VOLUNTEER], days=14, now=NOW, member=cast.vera
        )


def test_one_person_cannot_take_over_a_second_entry(cast: Cast) -> None:
    invitation = invite_paul(cast)
    actions.remove_member(member=cast.vera, by=cast.vera, now=NOW)
    assert cast.vera.user
    with refused(
        "was-here-before",
        "You have been in this circle before, under another entry: "
        "ask for an invitation that is not made out to Paul.",
    ):
        accept(invitation, cast.vera.user)
