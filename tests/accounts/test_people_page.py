"""The page of a circle's people, as each role sees it."""

import re

import pytest
from django.test import Client
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from accounts import actions
from accounts.models import Member, Role
from tests.cast import Cast, bring, login


def page(client: Client, member: Member) -> str:
    """The words of the page, without its tags."""
    assert member.user
    client.force_login(member.user)
    html = client.get(f"/circles/{member.circle_id}/people/").content.decode()
    main = html[html.index("<main") : html.index("</main>")]
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", main))


def invite(cast: Cast, **more: str) -> None:
    actions.invite_person(
        by=cast.olga,
        roles=[Role.VOLUNTEER],
        days=14,
        now=timezone.now(),
        email=more.get("email", ""),
    )


def test_a_volunteer_sees_people_and_nothing_that_is_private(cast: Cast, client: Client) -> None:
    invite(cast, email="nora@example.org")
    words = page(client, cast.vera)
    for name in ("Olga", "Cora", "Vera (you)", "Paul"):
        assert name in words
    for hidden in ("red door", "Invit", "nora@", "Change", "Settings of the circle", "@example"):
        assert hidden not in words
    assert "Leave the circle" in words


def test_a_coordinator_sees_how_to_reach_paper_members_and_changes_only_them(
    cast: Cast, client: Client
) -> None:
    words = page(client, cast.cora)
    assert "knock at the red door" in words
    assert re.findall(r"Change (\w+)", words) == ["Paul"]
    assert "Settings of the circle" not in words


def test_an_organiser_changes_everybody(cast: Cast, client: Client) -> None:
    words = page(client, cast.olga)
    assert re.findall(r"Change (\w+)", words) == ["Cora", "Olga", "Paul", "Vera"]
    assert "Settings of the circle" in words


def test_each_invitation_tells_how_it_stands(cast: Cast, client: Client) -> None:
    now = timezone.now()
    invite(cast, email="nora@example.org")
    gone = actions.invite_person(by=cast.olga, roles=[Role.ORGANISER], days=14, now=now)
    actions.revoke_invitation(invitation=gone.invitation, by=cast.olga, now=now)
    words = page(client, cast.olga)
    still_open, earlier = words.split("earlier invitation")
    assert re.search(r"nora@example.org volunteer Olga, .* open until .*, not sent yet", still_open)
    assert re.search(r"Everybody with the link organiser Olga, .* revoked on", earlier)


def test_a_coordinator_revokes_only_what_they_could_have_given(cast: Cast, client: Client) -> None:
    now = timezone.now()
    for role in (Role.VOLUNTEER, Role.ORGANISER):
        actions.invite_person(by=cast.olga, roles=[role], days=14, now=now)
    assert page(client, cast.cora).count("Revoke") == 1
    assert page(client, cast.olga).count("Revoke") == 2


def test_who_is_alone_is_told_what_to_do_first(client: Client, cast: Cast) -> None:
    alone = Member.objects.get(user=cast.stan)
    assert "So far you are alone here. Invite the others" in page(client, alone)


@pytest.mark.parametrize("more", [0, 12])
def test_it_takes_as_many_queries_for_many_as_for_few(
    cast: Cast, client: Client, django_assert_num_queries: DjangoAssertNumQueries, more: int
) -> None:
    for number in range(more):
        bring(cast.olga, login(f"Knitter{number}"), Role.VOLUNTEER)
        invite(cast)
    assert cast.olga.user
    client.force_login(cast.olga.user)
    # The session, the user, the member with the circle, the members, who has left, the invitations.
    with django_assert_num_queries(6):
        client.get(f"/circles/{cast.circle.pk}/people/")
