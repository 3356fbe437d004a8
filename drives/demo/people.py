"""The people of the demo: all invented, each with a hand of their own."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cache

from allauth.account.models import EmailAddress
from django.contrib.auth.hashers import make_password

from accounts import actions
from accounts.models import Member, Role, User
from drives.craft.knitter import Hand

# For a site that holds nothing but invented people; a real one must never have it.
PASSWORD = "garter-stitch"  # noqa: S105


@dataclass(frozen=True)
class Person:
    """Somebody with a login; ``part`` says what they show to whoever signs in as them."""

    name: str
    part: str
    roles: Collection[Role] = (Role.VOLUNTEER,)
    hand: Hand = Hand.RIGHT

    @property
    def email(self) -> str:
        return f"{self.name.lower()}@example.org"  # reserved: nobody can own such an address


ORGANISER = Person("Maud", "organiser", (Role.ORGANISER, Role.VOLUNTEER))
COORDINATOR = Person("Idris", "coordinator", (Role.COORDINATOR,))
VOLUNTEERS = (
    Person("Wren", "volunteer, has a square in hand"),
    Person("Tamsin", "volunteer, left-handed, has nothing in hand", hand=Hand.LEFT),
    Person("Osei", "volunteer, knits for every drive"),
    Person("Bettina", "volunteer, left-handed, is late", hand=Hand.LEFT),
    Person("Kofi", "volunteer, knits for the smallest"),
    Person("Lenka", "volunteer"),
)
# Name, how to reach them, hand: they have no login, so that a coordinator acts for them.
ON_PAPER = (
    ("Agnes", "rings the parish hall on Sundays", Hand.RIGHT),
    ("Walter", "comes to the Tuesday table", Hand.LEFT),
)
STRANGER = Person("Rufus", "organiser of another circle: sees nothing of this one")

EVERYBODY = (ORGANISER, COORDINATOR, *VOLUNTEERS, STRANGER)


def new_user(person: Person) -> User:
    user = User.objects.create_user(email=person.email, name=person.name)
    user.password = _hash()
    user.save(update_fields=["password"])
    # Proven, so that nobody is asked to open a letter that can never arrive.
    EmailAddress.objects.create(user=user, email=user.email, verified=True, primary=True)
    return user


@cache
def _hash() -> str:
    """One for all of them: a hash is slow on purpose."""
    return make_password(PASSWORD)


def new_circle(name: str, organiser: Person, now: datetime) -> Member:
    return actions.make_circle(
        user=new_user(organiser),
        name=name,
        units="cm",
        english="british",
        time_zone="Europe/London",
        hand=organiser.hand,
        now=now,
    )


def tell_currency(organiser: Member, currency: str, now: datetime) -> None:
    """Prices are in ``currency`` from now on; all else of the circle stays."""
    circle = organiser.circle
    kept = {name: getattr(circle, name) for name in ("name", "units", "english", "time_zone")}
    actions.change_circle(circle=circle, by=organiser, now=now, currency=currency, **kept)


def fill_circle(organiser: Member, now: datetime) -> dict[str, Member]:
    """Everybody comes in within a day, by invitation or on paper; answers them by name."""
    members = {organiser.name: organiser}
    for person in (COORDINATOR, *VOLUNTEERS):
        invited = actions.invite_person(by=organiser, roles=person.roles, days=7, now=now)
        members[person.name] = actions.accept_invitation(
            invitation=invited.invitation,
            user=new_user(person),
            hand=person.hand,
            now=now + timedelta(hours=5),
        )
    for name, reach, hand in ON_PAPER:
        members[name] = actions.add_paper_member(
            by=organiser, name=name, reach=reach, hand=hand, now=now + timedelta(days=1)
        )
    return members


def logins() -> str:
    """The text of the file of logins."""
    width = max(len(person.email) for person in EVERYBODY)
    lines = [f"  {person.email:{width}}  {person.part}" for person in EVERYBODY]
    return "\n".join(
        [
            "Invented people to sign in as. This is a demo: never use its password for anything.",
            "",
            *lines,
            "",
            f"  Password of all of them: {PASSWORD}",
            "",
        ]
    )
