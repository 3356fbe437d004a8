"""Nobody uses the site to write to strangers what they like, or as often as they like."""

import pytest
from allauth.account.models import EmailAddress
from django.test import Client
from django.urls import reverse
from pytest_django import Settings

from accounts import actions
from accounts.models import Invitation, Member, Role
from shared.basics.limits import LimitReached
from tests.cast import NOW, PASSWORD, Cast, found
from tests.desk import refused
from tests.postman import outbox


def invite(by: Member, email: str) -> Invitation:
    return actions.invite_person(
        by=by, roles=[Role.VOLUNTEER], days=14, now=NOW, email=email
    ).invitation


def test_who_has_not_proven_their_address_sends_no_mail(cast: Cast) -> None:
    EmailAddress.objects.filter(user=cast.olga.user).update(verified=False)
    with refused(
        "address-not-proven",
        "Before the site writes to others for you, confirm your own email address, under “Me”. "
        "A link to give to people yourself you can have now.",
    ):
        invite(cast.olga, "nora@example.org")
    assert actions.invite_person(by=cast.olga, roles=[Role.VOLUNTEER], days=14, now=NOW).token


@pytest.mark.parametrize(
    ("limit", "more"),
    [
        ({"person": "2/day"}, "c@example.org"),
        ({"circle": "2/day"}, "c@example.org"),
        ({"receiver": "2/day"}, "Same@example.org"),
    ],
)
def test_invitations_are_limited(
    cast: Cast, settings: Settings, limit: dict[str, str], more: str
) -> None:
    settings.LIMITS = {**settings.LIMITS, "invitations": limit}
    receivers = ["same@example.org"] * 2 if "receiver" in limit else ["a@b.example", "b@b.example"]
    by = [cast.olga, cast.cora if "circle" in limit else cast.olga]
    for member, email in zip(by, receivers, strict=True):
        invite(member, email)
    with pytest.raises(LimitReached):
        invite(cast.olga, more)


def test_another_circle_may_still_write_to_others(cast: Cast, settings: Settings) -> None:
    settings.LIMITS = {**settings.LIMITS, "invitations": {"circle": "1/day", "receiver": "1/day"}}
    invite(cast.olga, "a@example.org")
    invite(found("A third one", cast.stan), "b@example.org")


NOT_PLAIN = [
    "https://evil.example/now",
    "WIN at evil.example/prize",
    "www.evil",
    "two\nlines",
    "a\u2028b",
    "turned \u202e round",
]


@pytest.mark.parametrize("name", NOT_PLAIN)
def test_names_hold_no_links_and_no_line_ends(cast: Cast, client: Client, name: str) -> None:
    assert cast.olga.user
    client.force_login(cast.olga.user)
    settings = {"units": "cm", "english": "british", "time_zone": "UTC"}
    circle, paul = cast.circle.pk, cast.paul.pk
    for page, parts, sent in [
        ("new_circle", [], {"hand": "left", **settings}),
        ("circle_settings", [circle], settings),
        ("me", [], {"hand": "left"}),
        ("add_paper_member", [circle], {"hand": "left"}),
        ("member", [circle, paul], {"hand": "left"}),
    ]:
        answer = client.post(reverse(f"accounts:{page}", args=parts), {"name": name, **sent})
        assert answer.status_code == 409, page


@pytest.mark.parametrize("name", NOT_PLAIN)
def test_the_mail_after_signing_up_holds_nothing_of_who_signs_up(
    db: None, client: Client, name: str
) -> None:
    sent = {"email": "nora@example.org", "password1": PASSWORD}
    assert client.post("/account/signup/", {"name": name, **sent}).status_code == 200
    assert outbox() == []
    assert client.post("/account/signup/", {"name": "Buy Wool", **sent}).status_code == 302
    assert "Wool" not in f"{outbox()[0].subject} {outbox()[0].body}"


@pytest.mark.parametrize("name", ["J. R. Purl", "O'Hara-Smith", "Zoë 2", "Knit & Natter (Tue.)"])
def test_usual_names_are_plain(name: str) -> None:
    actions.require_plain(name)
