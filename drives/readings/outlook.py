"""A blanket's people, paces and pieces, read from the events of its circle for a forecast."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from django.db.models import Count, Max
from django.utils.timezone import localtime

from accounts.models import Member
from drives.craft.forecast.pace import HAND_OVER, circles_prior, hand_over, pace
from drives.craft.forecast.situation import (
    InHand,
    Knitter,
    Meetings,
    Situation,
    Together,
    Travelling,
)
from drives.craft.layout.layout import Mitre, side_stitches
from drives.craft.layout.rows import worked
from drives.craft.places import Place
from drives.models.blanket import Blanket
from drives.models.calendar import Absence, Meeting
from drives.models.claim import Claim, Ending
from drives.models.drive import Drive, Mode
from drives.models.piece import HandOver, Piece

from .board import Board

DAY = timedelta(days=1)


@dataclass(frozen=True)
class Outlook:
    """``situation`` knows people by number: they are ``members``, in this order.

    ``observed``: finished squares and hand-overs that the paces rest on, before the prior.
    """

    situation: Situation
    members: list[Member]
    observed: int
    hand_overs: int


def outlook(board: Board, now: datetime) -> Outlook:
    """What is known of ``board`` at ``now``, in a fixed number of queries.

    Days count from the beginning of the day, by the clock that is active: the same state gives
    the same outlook all day long.
    """
    blanket, drive = board.blanket, board.blanket.drive
    morning = datetime.combine(localtime(now), time.min, localtime(now).tzinfo)
    today = morning.date()
    # Claims are read after the squares: one that came in between may stand on what is not yet
    # finished here.
    claims = sorted((place, claim) for place, claim in board.claims.items() if place in board.taken)
    members = _people(drive, [claim.member for _, claim in claims])
    number = {member.pk: index for index, member in enumerate(members)}
    seen = _days_of_squares(blanket, members)
    prior = circles_prior(seen.values())
    away = _absences(members, today)
    given = _days_of_hand_overs(drive)
    situation = Situation(
        plan=board.plan,
        knitters=[
            Knitter(pace(seen.get(member.pk, ()), prior), away.get(member.pk, ()))
            for member in members
        ],
        mode=_mode(drive, given, today),
        finished=board.finished,
        in_hand=[
            InHand(place, number[claim.member_id], min((claim.taken_at - morning) / DAY, 0.0))
            for place, claim in claims
        ],
        holders=_holders(board, number),
    )
    return Outlook(situation, members, sum(map(len, seen.values())), len(given))


def grounds(blanket: Blanket, today: date) -> list[object]:
    """What decides an outlook besides the blanket's own events; plain values, six queries."""
    drive = blanket.drive
    members = Member.objects.present().volunteers().filter(circle=drive.circle_id)
    away = Absence.objects.filter(member__circle=drive.circle_id, last__gte=today)
    squares = Claim.objects.filter(ending=Ending.FINISHED, member__circle=drive.circle_id)
    hand_overs = HandOver.objects.filter(piece__blanket__drive=drive, received=True)
    newest = {"newest": Max("ended_at"), "count": Count("pk")}
    return [
        *(drive.mode, drive.at_once, drive.hand_over_days),
        list(members.order_by("pk").values_list("pk", "name")),
        list(away.order_by("pk").values_list("member", "first", "last")),
        list(Meeting.objects.filter(drive=drive, day__gte=today).values_list("day", flat=True)),
        list(blanket.pieces.live().order_by("pk").values_list("pk", "holder")),
        squares.aggregate(**newest),
        hand_overs.aggregate(**newest),
    ]


def _people(drive: Drive, holding: Iterable[Member]) -> list[Member]:
    """The circle's volunteers, and whoever else has a square in hand."""
    volunteers = Member.objects.present().volunteers().filter(circle=drive.circle_id)
    people = {member.pk: member for member in (*volunteers, *holding)}
    return [people[pk] for pk in sorted(people)]


def _days_of_squares(blanket: Blanket, members: list[Member]) -> dict[int, list[float]]:
    """By member: the days each finished square took, as if it had been one unit of ``blanket``."""
    unit = worked(blanket.stitches, Mitre(blanket.mitre))
    finished = Claim.objects.filter(ending=Ending.FINISHED, member__in=members)
    rows = finished.order_by("pk").values_list(
        "member_id", "taken_at", "ended_at", "square__size",
        "square__blanket__stitches", "square__blanket__mitre",
    )  # fmt: skip
    days: dict[int, list[float]] = defaultdict(list)
    for member, taken, ended, size, stitches, mitre in rows:
        if ended is not None:
            share = worked(side_stitches(size, stitches), Mitre(mitre)) / unit
            days[member].append((ended - taken) / DAY / share)
    return days


def _days_of_hand_overs(drive: Drive) -> list[float]:
    received = HandOver.objects.filter(piece__blanket__drive=drive, received=True)
    times = received.order_by("pk").values_list("arranged_at", "ended_at")
    return [(ended - arranged) / DAY for arranged, ended in times if ended is not None]


def _absences(members: list[Member], today: date) -> dict[int, tuple[tuple[float, float], ...]]:
    """By member: stretches in days from today on, joined where they overlap."""
    away: dict[int, list[tuple[float, float]]] = defaultdict(list)
    rows = Absence.objects.filter(member__in=members, last__gte=today)
    for member, first, last in rows.order_by("first").values_list("member_id", "first", "last"):
        begins, ends = float((first - today).days), float((last - today).days + 1)
        if away[member] and begins <= away[member][-1][1]:
            begins, ends = away[member][-1][0], max(ends, away[member].pop()[1])
        away[member].append((begins, ends))
    return {member: tuple(stretches) for member, stretches in away.items()}


def _mode(drive: Drive, given: list[float], today: date) -> Together | Travelling:
    room = drive.room_on_a_piece
    if drive.mode == Mode.TOGETHER:
        return Together(room)
    expected = HAND_OVER._replace(median=max(float(drive.hand_over_days), 0.5))
    return Travelling(
        hand_over=hand_over(given, expected),
        meetings=_meetings(drive, today),
        at_once=room or 1,
        turn=1,
    )


def _meetings(drive: Drive, today: date) -> Meetings | None:
    days = Meeting.objects.filter(drive=drive, day__gte=today).order_by("day")
    ahead = tuple(float((day - today).days) for day in days.values_list("day", flat=True))
    return Meetings(ahead) if ahead else None


def _holders(board: Board, number: dict[int, int]) -> dict[Place, int]:
    held = dict(
        Piece.objects.live()
        .filter(blanket=board.blanket, holder__in=number)
        .values_list("pk", "holder_id")
    )
    return {place: number[held[piece]] for place, piece in board.piece_of.items() if piece in held}
