"""The meeting list: who comes with what, what goes to whom, what each could begin next."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime

from django.template.loader import render_to_string
from django.utils.timezone import localdate
from django.utils.translation import gettext_lazy

from accounts.models import Member
from drives.actions.paper.kind import Asked
from drives.models import Absence, Blanket, Claim, Meeting, Sheet, Turn
from drives.readings.board import Board, board_of
from drives.readings.rota import Assigned, assigned
from drives.readings.whereabouts import Whereabouts, whereabouts
from drives.sheets import meeting_words
from drives.sheets.kind import Document, Part, minded
from drives.sheets.suggestions import Meant, suggestions


@dataclass(frozen=True)
class Attendee:
    """One who may come, in sentences and pieces of sentences."""

    name: str
    brings: Sequence[str]
    hands_on: Sequence[str]
    could: Sequence[meeting_words.Could]


def _drafts(sheet: Sheet, now: datetime) -> Part:
    """For the meeting that was chosen, else the drive's next one, else for a day left open."""
    blanket = sheet.blanket
    meeting = _meeting(blanket, sheet.chosen.meeting, localdate(now))
    day = meeting.day if meeting else None
    members = list(blanket.drive.circle.members.present())
    away = _away(members, day)
    board = board_of(blanket)
    pieces = whereabouts(board)
    coming = [member for member in members if member.pk not in away]
    by_rota = Meant([blanket], localdate(now))
    planned = by_rota.planned(board)
    could = suggestions(board, pieces, coming, by_rota)
    facts = {
        "sheet": sheet,
        "options": sheet.chosen,
        "now": now,
        "day": day,
        "board": board,
        "squares": len(board.plan.places),
        "to_know": meeting_words.to_know(board, pieces, coming, away, could, planned, now),
        "rows": list(_rows(board, pieces, coming, could, planned, now)),
    }
    yield render_to_string("sheets/meeting.html", facts)


def _meeting(blanket: Blanket, chosen: int | None, today: date) -> Meeting | None:
    meetings = blanket.drive.meetings
    if chosen is not None and (meeting := meetings.filter(pk=chosen).first()):
        return meeting
    return meetings.filter(day__gte=today).first()


def _away(members: Sequence[Member], day: date | None) -> dict[int, Absence]:
    """Of those who are away on ``day``, the absence that ends last, by member."""
    if day is None:
        return {}
    absences = Absence.objects.filter(member__in=members, first__lte=day, last__gte=day)
    return {absence.member_id: absence for absence in absences.order_by("last")}


def _rows(
    board: Board,
    pieces: Sequence[Whereabouts],
    coming: Sequence[Member],
    could: meeting_words.Suggested,
    planned: Mapping[str, Assigned],
    now: datetime,
) -> Iterator[Attendee]:
    """All who knit, and who else has something."""
    for member in coming:
        brings = meeting_words.brings(board, pieces, member, now)
        hands_on = meeting_words.hands_on(pieces, member)
        if member.is_volunteer or brings or hands_on:
            told = meeting_words.could(board, pieces, member, could.get(member.pk, []), planned)
            yield Attendee(member.name, brings, hands_on, told)


def who_comes(asked: Asked) -> list[object]:
    """Facts: when the circle meets, who is there, and who has or waits for what."""
    drive = asked.blanket.drive
    members = drive.circle.members.present().order_by("pk")
    away = Absence.objects.filter(member__in=members).order_by("pk")
    in_hand = Claim.objects.open().filter(square__blanket__drive=drive).order_by("pk")
    waiting = Turn.objects.waiting().filter(piece__blanket=asked.blanket)
    return [
        *minded(asked),
        list(drive.meetings.values_list("pk", "day")),
        list(away.values_list("member", "first", "last")),
        list(members.values_list("pk", "name", "hand", "is_volunteer")),
        list(waiting.values_list("pk")),
        list(in_hand.values_list("pk", "member")),  # of other blankets too: it is room
        assigned([asked.blanket], asked.today),
    ]


MEETING = Document(
    code="meeting",
    label=gettext_lazy("meeting list"),
    purpose=gettext_lazy("Who comes with what, what goes to whom, and what each could begin next."),
    uses=("meeting",),
    facts=who_comes,
    parts=lambda sheet, now: [_drafts(sheet, now)],
    style="meeting.css",
)
