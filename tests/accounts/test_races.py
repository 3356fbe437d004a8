"""Two at once: the first is held uncommitted, the second must wait and then see the truth."""

import pytest
from django.db import transaction
from django.utils import timezone

from accounts import actions
from accounts.models import Invitation, Member, Role, User
from shared.basics.refusals import Refused
from shared.basics.transactions import writing
from tests.cast import NOW, Cast, bring, login, open_link
from tests.racing import Rival, race

pytestmark = [pytest.mark.postgres, pytest.mark.django_db(transaction=True)]


def _demote(member: Member, by: Member) -> Member:
    return actions.change_roles(member=member, by=by, roles=[Role.VOLUNTEER], now=NOW)


def _accept(invitation: Invitation, user: User) -> Member:
    return actions.accept_invitation(
        invitation=Invitation.objects.get(pk=invitation.pk), user=user, hand="right", now=NOW
    )


def test_two_organisers_cannot_take_the_role_from_each_other(cast: Cast) -> None:
    rosa = bring(cast.olga, login("Rosa"), Role.ORGANISER)
    with pytest.raises(Refused, match="Olga is the only organiser here") as refusal:
        race(lambda: _demote(rosa, by=cast.olga), lambda: _demote(cast.olga, by=rosa))
    assert refusal.value.code == "last-organiser"
    assert list(cast.circle.members.organisers()) == [cast.olga]


def test_two_organisers_cannot_leave_at_once(cast: Cast) -> None:
    rosa = bring(cast.olga, login("Rosa"), Role.ORGANISER)
    with pytest.raises(Refused, match="Rosa is the only organiser here"):
        race(
            lambda: actions.remove_member(member=cast.olga, by=cast.olga, now=NOW),
            lambda: actions.remove_member(member=rosa, by=rosa, now=NOW),
        )
    assert list(cast.circle.members.organisers()) == [rosa]


def test_the_second_gets_the_role_when_the_first_does_not_finish(cast: Cast) -> None:
    rosa = bring(cast.olga, login("Rosa"), Role.ORGANISER)

    with transaction.atomic():
        _demote(rosa, by=cast.olga)
        rival = Rival(lambda: _demote(cast.olga, by=rosa))
        assert rival.is_waiting()
        transaction.set_rollback(True)
    assert rival.result().roles == {Role.VOLUNTEER}
    assert list(cast.circle.members.organisers()) == [rosa]


def test_a_personal_invitation_lets_one_of_two_in(cast: Cast) -> None:
    nora, ned = login("Nora"), login("Ned")
    invitation = actions.invite_person(
        by=cast.olga, roles=[Role.VOLUNTEER], days=9, now=NOW, member=cast.paul
    ).invitation
    with pytest.raises(Refused) as refusal:
        race(lambda: _accept(invitation, nora), lambda: _accept(invitation, ned))
    assert refusal.value.code == "invitation-used"
    cast.paul.refresh_from_db()
    assert cast.paul.user == nora


def test_the_same_person_by_two_invitations_at_once_is_one_member(cast: Cast) -> None:
    nora = login("Nora")
    first, second = (open_link(cast.olga, role) for role in (Role.VOLUNTEER, Role.COORDINATOR))
    member = race(lambda: _accept(first, nora), lambda: _accept(second, nora))
    assert Member.objects.get(user=nora, circle=cast.circle) == member
    assert member.roles == {Role.VOLUNTEER}


def test_an_invitation_that_is_being_revoked_lets_nobody_in(cast: Cast) -> None:
    nora = login("Nora")
    link = open_link(cast.olga, Role.VOLUNTEER)
    there = Invitation.objects.get(pk=link.pk)
    with pytest.raises(Refused) as refusal:
        race(
            lambda: actions.revoke_invitation(invitation=there, by=cast.olga, now=NOW),
            lambda: _accept(link, nora),
        )
    assert refusal.value.code == "invitation-revoked"


def test_a_held_circle_keeps_nobody_from_writing_what_only_points_to_it(cast: Cast) -> None:
    with writing():
        _demote(cast.cora, by=cast.olga)
        rival = Rival(
            lambda: actions.add_paper_member(
                by=cast.olga, name="Pia", reach="", hand="right", now=timezone.now()
            )
        )
        assert rival.result().name == "Pia"
