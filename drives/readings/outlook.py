"""A blanket's people, paces and pieces, read from the events of its circle for a forecast."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta

from django.db.models import Count, Max
from django.utils.timezone import localtime

from accounts.models import Member
from drives.craft.forecast.history import Spell
from drives.craft.forecast.learned import Learned, learned
from drives.craft.forecast.pace import HAND_OVER, hand_over
from drives.craft.forecast.passing import Passing, passing_on
from drives.craft.forecast.situation import (
    InHand,
    Knitter,
    Meetings,
    Situation,
    Together,
    Travelling,
    Work,
)
from drives.craft.forecast.week import Week, week_of
from drives.craft.places import Place
from drives.models.blanket import Blanket
from drives.models.calendar import Absence, Meeting
from drives.models.claim import Claim
from drives.models.drive import Drive, Mode
from drives.models.piece import HandOver, Piece

from .board import Board, boards_of
from .history import absences, history, met, spells_of
from .meetings import ahead_of, known_meetings

DAY = timedelta(days=1)
ASLEEP = 56 * DAY  # a blanket of which nothing was heard for so long waits for nobody's hands
SEED = 1


@dataclass(frozen=True)
class Outlook:
    """``situation`` knows people by number: they are ``members``, in this order.

    ``observed``: finished squares and hand-overs that the paces rest on, before the prior.
    ``meetings``: where pieces of the drive change hands, or would if they did so at meetings.
    """

    situation: Situation
    members: list[Member]
    observed: int
    hand_overs: int
    learned: Learned
    meetings: Meetings


def outlook(board: Board, now: datetime) -> Outlook:
    """What is known of ``board`` at ``now``: all blankets of its circle wait for the same hands.

    A fixed number of queries, and those for plans that are not known yet. Days count from the
    beginning of the day, by the clock that is active: the same state gives the same outlook all
    day long.
    """
    blanket, drive = board.blanket, board.blanket.drive
    morning = datetime.combine(localtime(now), time.min, localtime(now).tzinfo)
    today = morning.date()
    boards = [board, *_others(board, now)]
    members = _people(drive, [claim.member for each in boards for claim in each.claims.values()])
    number = {member.pk: index for index, member in enumerate(members)}
    spells = spells_of(blanket, number, morning, now)
    away = absences(members, today)
    blankets = [each.blanket for each in boards]
    plans = {each.blanket.pk: each.plan for each in boards}
    past = history(members, spells, away, plans, blankets, morning)
    # What is yet to come begins with the last thing that happened today.
    moments = [moment for spell in spells for moment in (spell.taken, spell.ended)]
    start = max((moment for moment in moments if 0 < moment < 1), default=0.0)
    gathered = met(spells, drive.circle_id, today)
    if gathered:
        past = replace(past, met=[day + start for day in gathered.past])
        week = Week(start=start)
    else:
        week = week_of((each.ended for each in spells if each.finished), start)
    given = _days_of_hand_overs([each.blanket.drive for each in boards])
    noted = known_meetings(drive.circle_id, today)
    meets = {
        each.blanket.drive_id: Meetings(
            tuple(map(float, ahead_of(each.blanket.drive, noted, today)))
        )
        for each in boards
    }
    holders = _holders(boards, number)
    works = [
        Work(
            each.plan,
            _mode(each.blanket.drive, given, meets[each.blanket.drive_id]),
            each.finished,
            _in_hand(each, spells, number),
            holders[each.blanket.pk],
        )
        for each in boards
    ]
    known = learned(past.by(week), SEED)
    mine, *others = works
    situation = Situation(
        plan=mine.plan,
        knitters=[
            Knitter(known.paces[index], away.get(member.pk, ()), index)
            for index, member in enumerate(members)
        ],
        mode=mine.mode,
        finished=mine.finished,
        in_hand=mine.in_hand,
        holders=mine.holders,
        others=others,
        history=past,
        shares=past.shares([each.pk for each in blankets]),
        week=week,
        meets=Meetings(tuple(day + start for day in gathered.ahead(_ahead(noted))))
        if gathered
        else None,
    )
    observed = sum(spell.finished and spell.knitter >= 0 for spell in spells)
    return Outlook(situation, members, observed, len(given[drive.pk]), known, meets[drive.pk])


def _others(board: Board, now: datetime) -> list[Board]:
    """The circle's other blankets that are being worked on."""
    circle = board.blanket.drive.circle_id
    heard = Blanket.objects.filter(drive__circle=circle).exclude(pk=board.blanket.pk)
    recent = heard.annotate(taken=Max("squares__claims__taken_at")).filter(taken__gte=now - ASLEEP)
    blankets = recent.select_related("drive").order_by("pk")
    return [
        each for each in boards_of(list(blankets)) if len(each.finished) < len(each.plan.places)
    ]


def _in_hand(board: Board, spells: Sequence[Spell], number: dict[int, int]) -> list[InHand]:
    # Claims are read after the squares: one that came in between may stand on what is not yet
    # finished here.
    return [
        InHand(spell.place, spell.knitter, spell.taken, spell.lapses)
        for spell in sorted(spells, key=lambda each: each.place)
        if spell.open and spell.blanket == board.blanket.pk and spell.place in board.taken
    ]


def grounds(blanket: Blanket) -> list[object]:
    """What decides an outlook besides the blanket's own events; plain values, eight queries."""
    circle = blanket.drive.circle_id
    members = Member.objects.present().volunteers().filter(circle=circle)
    away = Absence.objects.filter(member__circle=circle)
    claims = Claim.objects.filter(member__circle=circle)
    hand_overs = HandOver.objects.filter(piece__blanket__drive__circle=circle, received=True)
    drives = Drive.objects.filter(circle=circle).order_by("pk")
    blankets = Blanket.objects.filter(drive__circle=circle).order_by("pk")
    pieces = Piece.objects.live().filter(blanket__drive__circle=circle).order_by("pk")
    meetings = Meeting.objects.filter(drive__circle=circle).order_by("pk")
    newest = {"newest": Max("ended_at"), "count": Count("pk")}
    return [
        list(
            drives.values_list(
                *("pk", "mode", "at_once", "passing", "meet_every", "hand_over_days", "grace_days")
            )
        ),
        list(blankets.values_list("pk", "layout_key", "layout_version")),
        list(members.order_by("pk").values_list("pk", "name")),
        list(away.order_by("pk").values_list("member", "first", "last")),
        list(meetings.values_list("drive", "day")),
        list(pieces.values_list("pk", "holder")),
        claims.aggregate(taken=Max("taken_at"), due=Max("due_at"), **newest),
        hand_overs.aggregate(**newest),
    ]


def _people(drive: Drive, holding: Iterable[Member]) -> list[Member]:
    """The circle's volunteers, and whoever else has a square in hand."""
    volunteers = Member.objects.present().volunteers().filter(circle=drive.circle_id)
    people = {member.pk: member for member in (*volunteers, *holding)}
    return [people[pk] for pk in sorted(people)]


def _days_of_hand_overs(drives: Iterable[Drive]) -> dict[int, list[float]]:
    """By drive."""
    days: dict[int, list[float]] = {drive.pk: [] for drive in drives}
    received = HandOver.objects.filter(piece__blanket__drive__in=days, received=True)
    rows = received.order_by("pk").values_list("piece__blanket__drive", "arranged_at", "ended_at")
    for drive, arranged, ended in rows:
        if ended is not None:
            days[drive].append((ended - arranged) / DAY)
    return days


def _mode(drive: Drive, given: dict[int, list[float]], meetings: Meetings) -> Together | Travelling:
    room = drive.room_on_a_piece
    if drive.mode == Mode.TOGETHER:
        return Together(room)
    expected = HAND_OVER._replace(median=max(float(drive.hand_over_days), 0.5))
    mode = Travelling(hand_over=hand_over(given[drive.pk], expected), at_once=room or 1)
    return passing_on(mode, Passing(drive.passing), meetings)


def _ahead(noted: dict[int, list[int]]) -> list[int]:
    return sorted({day for days in noted.values() for day in days if day >= 0})


def _holders(boards: Sequence[Board], number: dict[int, int]) -> dict[int, dict[Place, int]]:
    """By blanket."""
    live = Piece.objects.live().filter(blanket__in=[each.blanket.pk for each in boards])
    held = dict(live.filter(holder__in=number).values_list("pk", "holder_id"))
    return {
        each.blanket.pk: {
            place: number[held[piece]] for place, piece in each.piece_of.items() if piece in held
        }
        for each in boards
    }
