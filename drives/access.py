"""The only way to a drive's rows: strangers get 404 for everything of a circle."""

from typing import NamedTuple, TypeVar

from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import ObjectDoesNotExist
from django.db.models import Model, QuerySet
from django.http import Http404
from django.utils import timezone

from accounts.access import may, member_of, read_as
from accounts.models import Circle, Event, Member, Role, User, digest_of
from drives.actions.circles.letters import reader_in
from drives.actions.paper.codes import slug_in
from drives.craft.places import Place
from drives.models import (
    Absence,
    Blanket,
    Code,
    Drive,
    Feed,
    FinderNote,
    HandOver,
    Meeting,
    Piece,
    Sheet,
    Square,
    Subject,
    Yarn,
)

AnyRow = TypeVar("AnyRow", bound=Model)
Visitor = User | AnonymousUser

FOR_COORDINATORS = (
    *("invited", "invitation-revoked"),
    *("absence-noted", "absence-dropped"),
    *("note-left", "note-read"),
    *("rota-accepted", "rota-line-accepted", "rota-line-declined", "rota-taken-back"),
)
"""What other members do not read in the log of their circle."""


class ForDrive(NamedTuple):
    drive: Drive
    member: Member


class ForBlanket(NamedTuple):
    blanket: Blanket
    member: Member


class ForSquare(NamedTuple):
    square: Square  # with its blanket, drive and circle
    member: Member


class ForPiece(NamedTuple):
    piece: Piece  # with its holder, blanket, drive and circle
    member: Member


class ForHandOver(NamedTuple):
    hand_over: HandOver  # with its two people, and its piece as in ``ForPiece``
    member: Member


class ForNote(NamedTuple):
    note: FinderNote  # with its code, what that is on, blanket, drive and circle
    member: Member


class ForLetters(NamedTuple):
    member: Member
    subject: Subject | None  # none: there are no such letters any more


class ForYarn(NamedTuple):
    yarn: Yarn  # with its circle
    member: Member


class ForSheet(NamedTuple):
    sheet: Sheet
    member: Member


def drives_of(user: User) -> QuerySet[Drive]:
    """The drives of the circles that the user is in, with their circles."""
    return Drive.objects.select_related("circle").filter(circle__in=_circles_of(user))


def events_for(me: Member) -> QuerySet[Event]:
    """What happened in ``me``'s circle, newest first, as far as they may read it.

    Invitations, days away and what finders write are for those who look after others.
    """
    events = Event.objects.filter(circle=me.circle_id).order_by("-at", "-id")
    return events if may(me, Role.COORDINATOR) else events.exclude(verb__in=FOR_COORDINATORS)


def blankets_of(user: User) -> QuerySet[Blanket]:
    """The blankets of the circles that the user is in, with their drives."""
    return Blanket.objects.select_related("drive").filter(drive__circle__in=_circles_of(user))


def drive_for(user: Visitor, drive_id: int) -> ForDrive:
    drive = _one(Drive.objects.select_related("circle", "receiver").filter(pk=drive_id))
    return ForDrive(drive, member_of(user, drive.circle_id))


def blanket_for(user: Visitor, blanket_id: int) -> ForBlanket:
    blankets = Blanket.objects.select_related("drive__circle", "drive__receiver")
    blanket = _one(blankets.filter(pk=blanket_id))
    return ForBlanket(blanket, member_of(user, blanket.drive.circle_id))


def square_for(user: Visitor, blanket_id: int, name: str) -> ForSquare:
    """The square at the place called ``name``; what is no place of the blanket is not found."""
    try:
        place = Place.parse(name)
    except ValueError:
        raise Http404 from None
    squares = Square.objects.select_related(
        "blanket__drive__circle", "blanket__drive__receiver"
    ).filter(blanket_id=blanket_id)
    square = _one(squares.at(place))
    return ForSquare(square, member_of(user, square.blanket.drive.circle_id))


def piece_for(user: Visitor, piece_id: int) -> ForPiece:
    """The piece, which may have ended: its label outlives it."""
    pieces = Piece.objects.select_related("holder", "blanket__drive__circle")
    piece = _one(pieces.filter(pk=piece_id))
    return ForPiece(piece, member_of(user, piece.blanket.drive.circle_id))


def hand_over_for(user: Visitor, hand_over_id: int) -> ForHandOver:
    """The hand-over; its contacts are for its giver and its receiver alone."""
    hand_overs = HandOver.objects.select_related(
        "giver", "receiver", "piece__holder", "piece__blanket__drive__circle"
    )
    hand_over = _one(hand_overs.filter(pk=hand_over_id))
    return ForHandOver(hand_over, member_of(user, hand_over.piece.blanket.drive.circle_id))


def code_for(token: str) -> Code:
    """The live code that a link from paper leads to, with its square or piece, for anybody."""
    slug = slug_in(token)
    codes = Code.objects.live().select_related(
        "square__blanket__drive__circle", "piece__blanket__drive__circle"
    )
    if slug is None:
        raise Http404
    return _one(codes.filter(slug=slug))


def note_for(user: Visitor, note_id: int) -> ForNote:
    """What a finder wrote; who may read it, the page says."""
    notes = FinderNote.objects.select_related(
        "code__square__blanket__drive__circle", "code__piece__blanket__drive__circle"
    )
    note = _one(notes.filter(pk=note_id))
    return ForNote(note, member_of(user, note.code.blanket.drive.circle_id))


def feed_for(secret: str) -> Feed:
    """The live feed of a present member, with their circle, for whoever knows its address."""
    feeds = Feed.objects.live().filter(member__user__is_active=True)
    feed = _one(feeds.select_related("member__circle").filter(digest=digest_of(secret)))
    read_as(feed.member.circle)
    return feed


def letters_for(signed: str) -> ForLetters:
    """Who gets which letters by the link that stands in them, for whoever has it."""
    told = reader_in(signed)
    if told is None:
        raise Http404
    member_id, subject = told
    member = _one(Member.objects.select_related("circle").filter(pk=member_id))
    read_as(member.circle)
    return ForLetters(member, subject)


def yarn_for(user: Visitor, yarn_id: int) -> ForYarn:
    yarn = _one(Yarn.objects.select_related("circle").filter(pk=yarn_id))
    return ForYarn(yarn, member_of(user, yarn.circle_id))


def sheet_for(user: Visitor, sheet_id: int) -> ForSheet:
    """A sheet of any kind; which members may read it, ``drives.sheets.rights`` knows."""
    sheet = _one(Sheet.objects.select_related("blanket__drive__circle").filter(pk=sheet_id))
    return ForSheet(sheet, member_of(user, sheet.blanket.drive.circle_id))


def sheet_of(blanket: Blanket, kind: str, sheet_id: str) -> Sheet | None:
    """One of the sheets of a blanket that was loaded; ``sheet_id`` as an address tells it."""
    if not sheet_id.isdecimal() or len(sheet_id) > 18:  # no table holds more
        return None
    return Sheet.objects.filter(blanket=blanket, kind=kind, pk=int(sheet_id)).first()


def meeting_of(drive: Drive, meeting_id: int) -> Meeting:
    """One of the meetings of a drive that was loaded."""
    return _one(drive.meetings.select_related("drive__circle").filter(pk=meeting_id))


def absences_of(me: Member) -> QuerySet[Absence]:
    """The days to come that ``me`` may see, and change: their own, or a coordinator everybody's."""
    ahead = Absence.objects.filter(last__gte=timezone.localdate()).select_related("member")
    if may(me, Role.COORDINATOR):
        return ahead.filter(member__circle=me.circle, member__left_at=None)
    return ahead.filter(member=me)


def absence_of(me: Member, absence_id: int) -> Absence:
    """One of ``absences_of``."""
    return _one(absences_of(me).filter(pk=absence_id))


def _circles_of(user: User) -> QuerySet[Circle]:
    mine = Member.objects.present().filter(user=user)
    return Circle.objects.filter(pk__in=mine.values("circle"))


def _one(rows: QuerySet[AnyRow]) -> AnyRow:
    try:
        return rows.get()
    except ObjectDoesNotExist:
        raise Http404 from None
