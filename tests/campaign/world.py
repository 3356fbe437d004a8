"""The circle of a campaign: many people, small blankets together and travelling, and yarn."""

from dataclasses import dataclass, field
from decimal import Decimal
from typing import NamedTuple

from django.test import Client
from django.utils import timezone

from accounts.actions.tokens import make_token
from accounts.models import Event, Member, Role, User
from drives.actions.drives.blankets import plan_blanket
from drives.actions.yarn.store import YarnSettings, add_yarn
from drives.craft.fibre.care import Care
from drives.craft.layout.layout import Layout, Seam
from drives.craft.places import Place
from drives.models import Mode
from tests.cast import bring, found, login
from tests.desk import new_drive

VOLUNTEERS = 12
COORDINATORS = 4
NEWCOMERS = 40  # have a login, and come in by an invitation
TOGETHER, TRAVELLING = 10, 4


class Person(NamedTuple):
    """Somebody with a login; ``member`` is 0 as long as they are in no circle."""

    user: int
    member: int
    key: str
    session: str
    coordinates: bool


class Quilt(NamedTuple):
    """One blanket; the layout of one that ``changes`` is drawn anew all the time."""

    pk: int
    places: tuple[str, ...]
    changes: bool


class Seen(NamedTuple):
    """A piece that a client has read about."""

    pk: int
    name: str
    blanket: int


@dataclass
class World:
    """What the clients know. What comes into being meanwhile they tell each other in the lists."""

    circle: int
    people: list[Person]
    newcomers: list[Person]
    quilts: list[Quilt]
    yarns: list[int]
    first_event: int
    pieces: list[Seen] = field(default_factory=list)
    hand_overs: list[int] = field(default_factory=list)
    links: list[str] = field(default_factory=list)
    states: dict[tuple[int, str], str] = field(default_factory=dict)


def make_world() -> World:
    now = timezone.now()
    olga = found("Harbour Lane", login("Olga"), now)
    members = [olga]
    for number in range(COORDINATORS):
        roles = (Role.COORDINATOR, Role.VOLUNTEER)
        members.append(bring(olga, login(f"Cora{number}"), *roles, now=now))
    names = [f"Vera{number}" for number in range(VOLUNTEERS)]
    members += [bring(olga, login(name), Role.VOLUNTEER, now=now) for name in names]
    newcomers = [_person(login(f"New{number}"), None) for number in range(NEWCOMERS)]
    many = {"claim_limit": 20, "claim_days": 14}
    quilts = [_quilt(olga, Mode.TOGETHER, number == 0, many) for number in range(TOGETHER)]
    quilts += [_quilt(olga, Mode.TRAVELLING, False, many) for _ in range(TRAVELLING)]
    yarns = [
        add_yarn(circle=olga.circle, grams=100_000, by=olga, now=now, **_yarn(number))
        for number in range(4)
    ]
    last = Event.objects.order_by("pk").last()
    return World(
        circle=olga.circle_id,
        people=[_person(member.user, member) for member in members if member.user],
        newcomers=newcomers,
        quilts=quilts,
        yarns=[yarn.pk for yarn in yarns],
        first_event=last.pk if last else 0,
    )


def _person(user: User, member: Member | None) -> Person:
    browser = Client()
    browser.force_login(user)
    _token, key = make_token(user=user, name="campaign", now=timezone.now())
    coordinates = member is not None and Role.VOLUNTEER in member.roles and len(member.roles) > 1
    return Person(
        user.pk, member.pk if member else 0, key, browser.cookies["sessionid"].value, coordinates
    )


def _quilt(by: Member, mode: Mode, changes: bool, settings: dict[str, int]) -> Quilt:
    """Three by two, cut where it travels, so that two pieces do."""
    rows = (1, 2) if mode != Mode.TOGETHER else ()
    seams = frozenset(Seam(Place(2, row), Place(3, row)) for row in rows)
    blanket = plan_blanket(
        drive=new_drive(by, mode=mode, **settings),
        by=by,
        name="Campaign",
        gauge=Decimal(20),
        layout=Layout(4, 3, 12, seams=seams),
        now=timezone.now(),
    )
    return Quilt(blanket.pk, tuple(map(str, blanket.plan().places)), changes)


def _yarn(number: int) -> YarnSettings:
    return YarnSettings(
        colour=f"colour {number}", value="#808080", dye_lot="", category=4, fibres=None,
        metres_per_100_grams=190, care=Care(), fast=None, swatch=None, given_by="", place="",
    )  # fmt: skip
