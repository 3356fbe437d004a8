"""A fixed cast of invented people, made by the real actions.

Olga organises and knits, Cora coordinates, Vera volunteers, Paul is on paper; Stan has a login
and belongs to another circle.
"""

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from allauth.account.models import EmailAddress
from django.test import Client

from accounts import actions
from accounts.models import Circle, Invitation, Member, Role, User
from drives.craft.knitter import Hand

NOW = datetime(2026, 11, 2, 10, tzinfo=UTC)
"""Long enough ago that the links by which the cast came in have expired for every page."""
DAY = timedelta(days=1)
PASSWORD = "knit-two-together"


@dataclass(frozen=True)
class Cast:
    """The members of one circle, and a stranger to it."""

    circle: Circle
    olga: Member
    cora: Member
    vera: Member
    paul: Member
    stan: User


def make_cast(now: datetime = NOW) -> Cast:
    """The cast, who all came in at ``now``."""
    olga = found("Harbour Lane", login("Olga"), now)
    stan = login("Stan")
    found("Elsewhere", stan, now)
    return Cast(
        circle=olga.circle,
        olga=olga,
        cora=bring(olga, login("Cora"), Role.COORDINATOR, now=now),
        vera=bring(olga, login("Vera"), Role.VOLUNTEER, now=now),
        paul=actions.add_paper_member(
            by=olga, name="Paul", reach="knock at the red door", hand=Hand.RIGHT, now=now
        ),
        stan=stan,
    )


def login(name: str) -> User:
    """A person in no circle yet who can sign in as ``name@example.org``, which is proven."""
    user = User.objects.create_user(
        email=f"{name.lower()}@example.org", name=name, password=PASSWORD
    )
    EmailAddress.objects.create(user=user, email=user.email, verified=True, primary=True)
    return user


def enter(client: Client, user: User) -> None:
    """``user`` is signed in, and has given their password once more just now."""
    client.force_login(user)
    client.post("/account/reauthenticate/", {"password": PASSWORD})


def found(name: str, user: User, now: datetime = NOW) -> Member:
    """A new circle of ``user``."""
    return actions.make_circle(
        user=user,
        name=name,
        units="cm",
        english="british",
        time_zone="Europe/London",
        hand=Hand.RIGHT,
        now=now,
    )


def open_link(by: Member, *roles: Role, now: datetime = NOW, days: int = 14) -> Invitation:
    """An invitation by link."""
    return actions.invite_person(by=by, roles=roles, days=days, now=now).invitation


def bring(by: Member, user: User, *roles: Role, now: datetime = NOW) -> Member:
    """``user`` comes into ``by``'s circle by a link."""
    invitation = open_link(by, *roles, now=now)
    return actions.accept_invitation(invitation=invitation, user=user, hand=Hand.RIGHT, now=now)
