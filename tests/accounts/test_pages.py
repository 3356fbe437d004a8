"""What the other pages of people and circles do when their forms are sent."""

import re
from typing import Protocol

from django.test import Client
from django.urls import reverse
from django.utils import timezone

from accounts import actions
from accounts.models import ApiToken, Circle, Invitation, Member, Role, digest_of
from tests.cast import NOW, Cast, enter, open_link
from tests.postman import outbox

CIRCLE = {
    "name": "Tide Mill",
    "units": "in",
    "english": "american",
    "time_zone": "America/Halifax",
}


def sign_in(client: Client, member: Member) -> None:
    assert member.user
    client.force_login(member.user)


class Page(Protocol):
    """An answer of the test client."""

    content: bytes


def told(answer: Page) -> str:
    """The page's words."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", answer.content.decode()))


def test_a_new_circle_opens_on_its_home(cast: Cast, client: Client) -> None:
    client.force_login(cast.stan)
    answer = client.post("/circles/new/", CIRCLE | {"hand": "left"})
    circle = Circle.objects.get(name="Tide Mill")
    assert answer.headers["Location"] == reverse("drives:circle", args=[circle.pk])
    assert circle.members.get().hand == "left"
    assert "Tide Mill is there." in told(client.get("/circles/"))


def test_a_time_zone_that_does_not_exist_is_not_taken(cast: Cast, client: Client) -> None:
    client.force_login(cast.stan)
    answer = client.post("/circles/new/", CIRCLE | {"hand": "left", "time_zone": "Europe/Atlantis"})
    assert answer.status_code == 422
    assert not Circle.objects.filter(name="Tide Mill").exists()


def test_an_organiser_changes_the_settings(cast: Cast, client: Client) -> None:
    sign_in(client, cast.olga)
    form = told(client.get(f"/circles/{cast.circle.pk}/settings/"))
    assert "Settings of Harbour Lane" in form
    client.post(f"/circles/{cast.circle.pk}/settings/", CIRCLE)
    cast.circle.refresh_from_db()
    assert (cast.circle.name, cast.circle.units) == ("Tide Mill", "in")


def test_roles_are_shown_as_they_are_and_kept_as_chosen(cast: Cast, client: Client) -> None:
    sign_in(client, cast.olga)
    address = reverse("accounts:member", args=[cast.circle.pk, cast.cora.pk])
    form = client.get(address).content.decode()
    assert re.findall(r'value="(\w+)"[^>]*checked', form) == ["coordinator"]
    client.post(address, {"roles": ["coordinator", "volunteer"]})
    cast.cora.refresh_from_db()
    assert cast.cora.roles == {Role.COORDINATOR, Role.VOLUNTEER}


def test_a_refusal_stands_on_the_same_page_in_words(cast: Cast, client: Client) -> None:
    sign_in(client, cast.olga)
    address = reverse("accounts:member", args=[cast.circle.pk, cast.olga.pk])
    answer = client.post(address, {"roles": ["volunteer"]})
    assert answer.status_code == 409
    assert "Olga is the only organiser here" in told(answer)


def test_removing_asks_first_and_says_what_will_happen(cast: Cast, client: Client) -> None:
    sign_in(client, cast.olga)
    address = reverse("accounts:remove_member", args=[cast.circle.pk, cast.paul.pk])
    question = told(client.get(address))
    assert "Remove Paul from the circle?" in question
    assert "What Paul has knitted stays" in question
    cast.paul.refresh_from_db()
    assert cast.paul.left_at is None
    assert "Paul is no longer in the circle." in told(client.post(address, follow=True))
    cast.paul.refresh_from_db()
    assert cast.paul.left_at is not None


def test_the_last_organiser_is_told_why_leaving_is_refused(cast: Cast, client: Client) -> None:
    sign_in(client, cast.olga)
    answer = client.post(reverse("accounts:remove_member", args=[cast.circle.pk, cast.olga.pk]))
    assert answer.status_code == 422
    assert "Choose who organises the circle from now on." in told(answer)
    Member.objects.filter(circle=cast.circle).exclude(pk=cast.olga.pk).update(
        user=None, is_coordinator=False, is_volunteer=True
    )
    answer = client.post(reverse("accounts:remove_member", args=[cast.circle.pk, cast.olga.pk]))
    assert answer.status_code == 409
    assert "make somebody else an organiser first" in told(answer)


def test_the_last_organiser_hands_over_and_leaves(cast: Cast, client: Client) -> None:
    sign_in(client, cast.olga)
    address = reverse("accounts:remove_member", args=[cast.circle.pk, cast.olga.pk])
    page = told(client.get(address))
    assert "Who organises the circle from now on?" in page
    assert "Paul" not in page  # he has no login
    client.post(address, {"successor": cast.vera.pk})
    cast.olga.refresh_from_db()
    cast.vera.refresh_from_db()
    assert cast.olga.left_at is not None
    assert cast.vera.roles == {Role.ORGANISER, Role.VOLUNTEER}
    sign_in(client, cast.vera)
    leaving = reverse("accounts:remove_member", args=[cast.circle.pk, cast.cora.pk])
    assert "from now on?" not in told(client.get(leaving))


def test_who_leaves_no_longer_finds_the_circle(cast: Cast, client: Client) -> None:
    sign_in(client, cast.vera)
    client.post(reverse("accounts:remove_member", args=[cast.circle.pk, cast.vera.pk]))
    assert client.get(f"/circles/{cast.circle.pk}/people/").status_code == 404
    assert "You are in no circle yet" in told(client.get("/circles/"))


def test_a_member_of_another_circle_is_not_found_through_ones_own(
    cast: Cast, client: Client
) -> None:
    elsewhere = Member.objects.get(user=cast.stan)
    sign_in(client, cast.olga)
    for name in ("member", "remove_member", "invite_member"):
        address = reverse(f"accounts:{name}", args=[cast.circle.pk, elsewhere.pk])
        assert client.post(address).status_code == 404
    foreign = open_link(elsewhere, Role.VOLUNTEER)
    address = reverse("accounts:revoke_invitation", args=[cast.circle.pk, foreign.pk])
    assert client.post(address).status_code == 404


def test_a_coordinator_does_not_change_who_has_a_login(cast: Cast, client: Client) -> None:
    sign_in(client, cast.cora)
    for name in ("member", "remove_member"):
        address = reverse(f"accounts:{name}", args=[cast.circle.pk, cast.vera.pk])
        assert client.post(address).status_code == 403


def test_a_new_invitation_shows_its_link_this_once(cast: Cast, client: Client) -> None:
    sign_in(client, cast.olga)
    answer = client.post(
        reverse("accounts:invite", args=[cast.circle.pk]),
        {"roles": ["volunteer"], "days": "14", "email": ""},
    )
    link = re.search(r"http://testserver/join/([\w-]+)/", answer.content.decode())
    assert link
    assert Invitation.objects.with_token(link[1]).get().roles == {Role.VOLUNTEER}
    assert "no-store" in answer.headers["Cache-Control"]
    people = client.get(reverse("accounts:people", args=[cast.circle.pk]))
    assert link[1] not in people.content.decode()


def test_a_coordinator_is_offered_only_volunteers(cast: Cast, client: Client) -> None:
    sign_in(client, cast.cora)
    address = reverse("accounts:invite", args=[cast.circle.pk])
    assert re.findall(r'name="roles" value="(\w+)"', client.get(address).content.decode()) == [
        "volunteer"
    ]
    answer = client.post(address, {"roles": ["organiser"], "days": "14"})
    assert answer.status_code == 422
    assert not Invitation.objects.filter(invited_by=cast.cora).exists()


def test_a_closed_invitation_says_why(cast: Cast, client: Client) -> None:
    invitation, token = actions.invite_person(
        by=cast.olga, roles=[Role.VOLUNTEER], days=14, now=timezone.now()
    )
    actions.revoke_invitation(invitation=invitation, by=cast.olga, now=timezone.now())
    address = reverse("accounts:join", args=[token])
    client.force_login(cast.stan)
    looked, joined = client.get(address), client.post(address, {"hand": "right"})
    assert (looked.status_code, joined.status_code) == (410, 409)
    for answer in (looked, joined):
        assert told(answer).count("This invitation has been taken back.") == 1


def test_me_keeps_name_and_hand(cast: Cast, client: Client) -> None:
    sign_in(client, cast.vera)
    client.post("/me/", {"name": "Verena", "hand": "left"})
    cast.vera.refresh_from_db()
    assert (cast.vera.name, cast.vera.hand) == ("Verena", "left")


def test_a_new_key_is_shown_once(cast: Cast, client: Client) -> None:
    assert cast.vera.user
    enter(client, cast.vera.user)
    answer = client.post("/me/keys/new/", {"name": "spreadsheet", "read_only": "yes", "days": "30"})
    key = re.search(r'value="([\w-]{43})"', answer.content.decode())
    assert key
    assert ApiToken.objects.get().digest == digest_of(key[1])
    assert "no-store" in answer.headers["Cache-Control"]
    me = client.get("/me/").content.decode()
    assert "spreadsheet" in me
    assert "only read" in me
    assert key[1] not in me
    assert "It can change nothing." in outbox()[-1].body


def test_a_key_is_revoked_by_its_owner_alone(cast: Cast, client: Client) -> None:
    token, _ = actions.make_token(user=cast.stan, name="mine", now=NOW)
    address = reverse("accounts:revoke_token", args=[token.pk])
    sign_in(client, cast.olga)
    assert client.post(address).status_code == 404
    client.force_login(cast.stan)
    client.post(address)
    token.refresh_from_db()
    assert token.revoked_at is not None
    assert "mine" not in told(client.get("/me/")).replace("mine is revoked", "")
