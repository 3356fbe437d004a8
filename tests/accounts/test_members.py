"""Who is in a circle, with which roles."""

import pytest

from accounts import actions
from accounts.models import Event, Member, Role, Standing
from tests.cast import DAY, NOW, Cast, bring, found, open_link
from tests.desk import nothing_changes, refused

ONLY_OLGA = (
    "Olga is the only organiser here, and a circle needs one: "
    "make somebody else an organiser first, or close the circle."
)


def roles(member: Member, *wanted: Role, by: Member) -> Member:
    return actions.change_roles(member=member, by=by, roles=wanted, now=NOW + DAY)


def leave(member: Member, by: Member) -> Member:
    return actions.remove_member(member=member, by=by, now=NOW + DAY)


def test_a_paper_member_knits_without_a_login(cast: Cast) -> None:
    pia = actions.add_paper_member(
        by=cast.cora, name="Pia", reach="shop on Fridays", hand="left", now=NOW
    )
    pia.refresh_from_db()
    assert pia.is_paper
    assert (pia.roles, pia.note, pia.hand) == ({Role.VOLUNTEER}, "shop on Fridays", "left")
    event = Event.objects.latest("pk")
    assert (event.by, event.verb) == (cast.cora, "member-added")
    assert event.facts == {"member": pia.pk}


def test_the_log_does_not_say_how_to_reach_anybody(cast: Cast) -> None:
    actions.change_member(
        member=cast.paul, by=cast.olga, name="Paul", reach="0999 1", hand="left", now=NOW
    )
    event = Event.objects.latest("pk")
    assert event.verb == "member-changed"
    assert event.facts == {"member": cast.paul.pk, "changed": ["note", "hand"]}


def test_the_same_entry_again_changes_nothing(cast: Cast) -> None:
    with nothing_changes():
        actions.change_member(
            member=cast.paul,
            by=cast.olga,
            name="Paul",
            reach="knock at the red door",
            hand="right",
            now=NOW,
        )


def test_a_persons_name_and_hand_follow_them_into_all_their_circles(cast: Cast) -> None:
    here = bring(cast.olga, cast.stan, Role.VOLUNTEER)
    actions.change_person(user=cast.stan, name="Stanley", hand="left", now=NOW)
    entries = Member.objects.filter(user=cast.stan)
    assert {(entry.name, entry.hand) for entry in entries} == {("Stanley", "left")}
    assert here in entries
    assert entries.count() == 2
    cast.stan.refresh_from_db()
    assert cast.stan.name == "Stanley"


def test_roles_are_exactly_those_given(cast: Cast) -> None:
    roles(cast.vera, Role.COORDINATOR, Role.ORGANISER, by=cast.olga)
    cast.vera.refresh_from_db()
    assert cast.vera.roles == {Role.ORGANISER, Role.COORDINATOR}
    event = Event.objects.latest("pk")
    assert event.verb == "roles-changed"
    assert event.facts == {
        "member": cast.vera.pk,
        "from": ["volunteer"],
        "to": ["coordinator", "organiser"],
    }


def test_the_same_roles_again_change_nothing(cast: Cast) -> None:
    with nothing_changes():
        roles(cast.vera, Role.VOLUNTEER, by=cast.olga)


def test_nobody_stays_without_a_role(cast: Cast) -> None:
    with refused("no-role", "Choose at least one role, or let them leave the circle."):
        roles(cast.vera, by=cast.olga)


def test_who_has_no_login_cannot_organise(cast: Cast) -> None:
    with refused(
        "needs-a-login", "Paul has no login, and organising needs one: invite them first."
    ):
        roles(cast.paul, Role.VOLUNTEER, Role.COORDINATOR, by=cast.olga)


def test_the_last_organiser_keeps_the_role(cast: Cast) -> None:
    with refused("last-organiser", ONLY_OLGA):
        roles(cast.olga, Role.VOLUNTEER, by=cast.olga)


def test_the_last_organiser_cannot_leave(cast: Cast) -> None:
    with refused("last-organiser", ONLY_OLGA):
        leave(cast.olga, by=cast.olga)


def test_an_organiser_can_go_when_there_is_another(cast: Cast) -> None:
    roles(cast.cora, Role.ORGANISER, by=cast.olga)
    roles(cast.olga, Role.VOLUNTEER, by=cast.olga)
    leave(cast.olga, by=cast.olga)
    assert not cast.circle.members.present().filter(name="Olga").exists()


def test_an_organiser_of_another_circle_does_not_count(cast: Cast) -> None:
    found("A third one", cast.cora.user or cast.stan)
    with refused("last-organiser", ONLY_OLGA):
        leave(cast.olga, by=cast.olga)


def test_who_leaves_keeps_their_name_and_loses_the_rest(cast: Cast) -> None:
    leave(cast.paul, by=cast.olga)
    cast.paul.refresh_from_db()
    assert (cast.paul.name, cast.paul.note) == ("Paul", "")
    assert (cast.paul.roles, cast.paul.left_at) == (set(), NOW + DAY)
    event = Event.objects.latest("pk")
    assert (event.by, event.verb) == (cast.olga, "member-removed")
    assert event.facts == {"member": cast.paul.pk}


def test_leaving_oneself_is_told_apart(cast: Cast) -> None:
    leave(cast.vera, by=cast.vera)
    assert Event.objects.latest("pk").verb == "left"


def test_leaving_twice_changes_nothing(cast: Cast) -> None:
    leave(cast.vera, by=cast.vera)
    with nothing_changes():
        actions.remove_member(member=cast.vera, by=cast.olga, now=NOW + 2 * DAY)


def test_invitations_for_a_paper_member_end_when_they_leave(cast: Cast) -> None:
    for_paul = actions.invite_person(
        by=cast.olga, roles=[Role.VOLUNTEER], days=14, now=NOW, member=cast.paul
    ).invitation
    link = open_link(cast.olga, Role.VOLUNTEER)
    leave(cast.paul, by=cast.olga)
    for invitation in (for_paul, link):
        invitation.refresh_from_db()
    assert for_paul.standing(NOW + DAY) is Standing.REVOKED
    assert link.standing(NOW + DAY) is Standing.OPEN


@pytest.mark.parametrize("what", ["roles", "entry"])
def test_who_has_left_cannot_be_changed(cast: Cast, what: str) -> None:
    leave(cast.vera, by=cast.vera)
    with refused("member-has-left", "Vera is no longer in the circle."):
        if what == "roles":
            roles(cast.vera, Role.COORDINATOR, by=cast.olga)
        else:
            actions.change_member(
                member=cast.vera, by=cast.olga, name="V", reach="", hand="left", now=NOW
            )
