"""Who has lost a role, or left, has no link left by which to take it back."""

import pytest

from accounts import actions
from accounts.models import Invitation, Member, Role, Standing
from drives.craft.knitter import Hand
from tests.cast import DAY, NOW, Cast, bring, login, open_link
from tests.desk import refused

LATER = NOW + DAY
REVOKED = "This invitation has been taken back. Ask the person who invited you for another."


@pytest.fixture
def oscar(cast: Cast) -> Member:
    """A second organiser, brought in by Olga."""
    return bring(cast.olga, login("Oscar"), Role.ORGANISER)


def enter(invitation: Invitation, member: Member) -> Member:
    assert member.user
    return actions.accept_invitation(
        invitation=invitation, user=member.user, hand=Hand.LEFT, now=LATER
    )


def remove(member: Member, by: Member) -> None:
    actions.remove_member(member=member, by=by, now=LATER)


def standing(invitation: Invitation) -> Standing:
    invitation.refresh_from_db()
    return invitation.standing(LATER)


def test_who_is_removed_does_not_come_back_by_a_link_of_their_own(
    cast: Cast, oscar: Member
) -> None:
    own = open_link(oscar, Role.ORGANISER)
    remove(oscar, by=cast.olga)
    assert standing(own) is Standing.REVOKED
    with refused("invitation-revoked", REVOKED):
        enter(own, oscar)


def test_who_is_removed_does_not_come_back_by_the_link_they_came_by(cast: Cast) -> None:
    link = open_link(cast.olga, Role.VOLUNTEER)
    nora = actions.accept_invitation(invitation=link, user=login("Nora"), hand=Hand.LEFT, now=NOW)
    remove(nora, by=cast.olga)
    assert standing(link) is Standing.REVOKED


def test_who_left_does_not_come_back_by_any_link_made_before(cast: Cast) -> None:
    another = open_link(cast.olga, Role.ORGANISER)
    remove(cast.vera, by=cast.vera)
    assert standing(another) is Standing.OPEN
    with refused(
        "left-since",
        "You have left this circle since this invitation was made: ask for a new one.",
    ):
        enter(another, cast.vera)


def test_who_is_demoted_keeps_only_the_links_that_they_may_still_make(
    cast: Cast, oscar: Member
) -> None:
    of_organiser, of_coordinator = (
        open_link(oscar, Role.ORGANISER),
        open_link(oscar, Role.VOLUNTEER),
    )
    actions.change_roles(member=oscar, by=cast.olga, roles=[Role.COORDINATOR], now=LATER)
    assert standing(of_organiser) is Standing.REVOKED
    assert standing(of_coordinator) is Standing.OPEN


def test_who_is_demoted_can_give_nobody_the_link_by_which_they_became_more(cast: Cast) -> None:
    """Not even themselves, under another address."""
    link = open_link(cast.olga, Role.ORGANISER)
    nora = actions.accept_invitation(invitation=link, user=login("Nora"), hand=Hand.LEFT, now=NOW)
    actions.change_roles(member=nora, by=cast.olga, roles=[Role.VOLUNTEER], now=LATER)
    assert standing(link) is Standing.REVOKED


def test_the_link_by_which_a_volunteer_came_outlasts_a_change_of_roles(cast: Cast) -> None:
    link = open_link(cast.olga, Role.VOLUNTEER)
    nora = actions.accept_invitation(invitation=link, user=login("Nora"), hand=Hand.LEFT, now=NOW)
    actions.change_roles(member=nora, by=cast.olga, roles=[Role.COORDINATOR], now=LATER)
    assert standing(link) is Standing.OPEN


@pytest.mark.parametrize("left", [True, False])
def test_a_link_of_earlier_days_asks_again_who_made_it(
    cast: Cast, oscar: Member, left: bool
) -> None:
    """Its maker lost the role before links ended with it."""
    link = open_link(oscar, Role.ORGANISER)
    oscar.set_roles([] if left else [Role.COORDINATOR])
    oscar.left_at = LATER if left else None
    oscar.save()
    nora = login("Nora")
    with refused("invitation-revoked", REVOKED):
        actions.accept_invitation(invitation=link, user=nora, hand=Hand.LEFT, now=LATER)
