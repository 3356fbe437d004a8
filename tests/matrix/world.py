"""One of everything, so that every address leads somewhere."""

from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from string import Template
from typing import Any

from django.utils import timezone
from django.utils.timezone import localdate

from accounts import actions
from accounts.models import Invitation, Role, User
from drives.actions.circles import calendar
from drives.actions.circles.feeds import make_feed
from drives.actions.circles.letters import off_link
from drives.actions.drives.rules import note_rules
from drives.actions.paper.codes import code_of, link
from drives.actions.paper.finders import leave_note
from drives.actions.paper.sheets import request_sheet
from drives.actions.pieces import hand_overs
from drives.actions.yarn.ledger import hand_out_yarn
from drives.craft.layout.layout import Layout, Seam
from drives.craft.places import Place
from drives.craft.receivers.rules import Rules
from drives.models import (
    Absence,
    Blanket,
    Code,
    FinderNote,
    HandOver,
    HandOverWay,
    Meeting,
    Mode,
    Paper,
    Sheet,
    Subject,
    Yarn,
)
from drives.sheets.kinds import STATUS
from shared.basics.refusals import Refused
from tests.cast import Cast, make_cast
from tests.desk import DAY, Desk, new_blanket
from tests.store import new_yarn


@dataclass(frozen=True)
class World:
    """Three squares that stand on nothing: A1 is ready, B1 is Vera's, C1 is finished by Paul.

    Its receiver takes nothing so narrow, it is said. Of another blanket, one that travels, Vera has
    a piece, which goes to Olga. She has some of the yarn too.
    """

    cast: Cast
    blanket: Blanket
    sheet: Sheet
    invitation: Invitation
    token: str
    key_id: int
    hand_over: HandOver
    meeting: Meeting
    absence: Absence
    note: FinderNote
    secret: str
    yarn: Yarn

    def user(self, role: str) -> User | None:
        """Who has this role in the circle; None is an anonymous visitor."""
        cast = self.cast
        return {
            "anonymous": None,
            "stranger": cast.stan,
            "volunteer": cast.vera.user,
            "coordinator": cast.cora.user,
            "organiser": cast.olga.user,
        }[role]

    def part(self, name: str) -> str:
        """What stands in an address for the parameter ``name``."""
        return str(PARTS[name](self))

    def fill(self, body: str) -> str:
        """``body`` with the ids of the people and things that it names."""
        cast = self.cast
        people = {name: getattr(cast, name).pk for name in ("olga", "cora", "vera", "paul")}
        ids = {"drive": self.blanket.drive_id, "blanket": self.blanket.pk, "yarn": self.yarn.pk}
        days = {"tomorrow": (localdate() + DAY).isoformat()}
        return Template(body).substitute(people | ids | days)


PARTS: dict[str, Callable[[World], Any]] = {
    "circle_id": lambda world: world.cast.circle.pk,
    "member_id": lambda world: world.cast.paul.pk,
    "invitation_id": lambda world: world.invitation.pk,
    "token": lambda world: world.token,
    "token_id": lambda world: world.key_id,
    "signed": lambda world: off_link(world.cast.vera, Subject.LATE).split("/")[-2],
    "drive_id": lambda world: world.blanket.drive_id,
    "blanket_id": lambda world: world.blanket.pk,
    "place": lambda world: "A1",
    "piece_id": lambda world: world.hand_over.piece_id,
    "hand_over_id": lambda world: world.hand_over.pk,
    "meeting_id": lambda world: world.meeting.pk,
    "absence_id": lambda world: world.absence.pk,
    "sheet_id": lambda world: world.sheet.pk,
    "link": lambda world: signed(world.note.code),
    "note_id": lambda world: world.note.pk,
    "secret": lambda world: world.secret,
    "mark": lambda world: "unknown",
    "pk": lambda world: 1,
    "yarn_id": lambda world: world.yarn.pk,
    "way": lambda world: "receive",
    "name": lambda world: "squares",
    "form": lambda world: "csv",
    "seams": lambda world: "A–B",
    "code": lambda world: "not-ready",
    "key": lambda world: "unknown",
    "uidb36": lambda world: "1",
}


def make_world() -> World:
    """The invitation is open, gives the volunteer's role and came from Olga, as does the key."""
    now = timezone.now()
    cast = make_cast()
    a1, b1, c1 = (Place(column, 1) for column in (1, 2, 3))
    seams = frozenset({Seam.between(a1, b1), Seam.between(b1, c1)})
    blanket = new_blanket(cast.olga, Layout(3, 1, 20, seams=seams))
    note_rules(drive=blanket.drive, by=cast.olga, now=now, rules=Rules(shorter_from=50))
    desk = Desk(blanket)
    desk.claim("B1", cast.vera, at=now)
    desk.claim("C1", cast.paul, by=cast.cora, at=now)
    desk.finish("C1", cast.cora, at=now)
    invitation, token = actions.invite_person(
        by=cast.olga, roles=[Role.VOLUNTEER], days=14, now=now
    )
    user = cast.olga.user
    assert user
    return World(
        cast=cast,
        blanket=blanket,
        sheet=request_sheet(
            blanket=blanket, by=cast.olga, kind=STATUS, options={"paper": Paper.A4}, now=now
        ),
        invitation=invitation,
        token=token,
        key_id=actions.make_token(user=user, name="spreadsheet", now=now)[0].pk,
        hand_over=_hand_over(cast, now),
        meeting=calendar.add_meeting(
            drive=blanket.drive, day=localdate(now + DAY), by=cast.cora, now=now
        ),
        absence=calendar.add_absence(
            member=cast.paul, first=localdate(now), last=localdate(now + DAY), by=cast.cora, now=now
        ),
        note=leave_note(
            code=code_of(desk.square("A1"), now=now), text="On a bench.", contact="", now=now
        ),
        secret=make_feed(member=cast.olga, now=now),
        yarn=_yarn(cast, now),
    )


def _yarn(cast: Cast, now: datetime) -> Yarn:
    """70 g of navy, and 30 g of it with Vera."""
    yarn = new_yarn(cast.cora)
    hand_out_yarn(yarn=yarn, member=cast.vera, grams=30, by=cast.cora, now=now)
    return yarn


def signed(code: Code) -> str:
    """The last part of the address in the code."""
    return link(code).rstrip("/").rpartition("/")[2]


def _hand_over(cast: Cast, now: datetime) -> HandOver:
    """Vera's piece, for which Olga and Paul stand in line, is promised to Olga."""
    desk = Desk(new_blanket(cast.olga, Layout(2, 1, 20), mode=Mode.TRAVELLING))
    desk.knit("A1", cast.vera, at=now)
    for member in (cast.olga, cast.paul):
        with suppress(Refused):  # told that they are in line now
            desk.claim("B1", member, by=cast.olga, at=now)
    piece = desk.blanket.pieces.get()
    return hand_overs.arrange_hand_over(
        piece=piece, receiver=cast.olga, way=HandOverWay.HAND, day=None, by=cast.vera, now=now
    )
