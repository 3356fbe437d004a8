"""What is late and who waits for whom, for those who look after a circle."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta

from django.utils.formats import date_format
from django.utils.timezone import localdate
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from accounts.models import Circle
from drives.craft.layout import states
from drives.craft.places import Place
from drives.models import Claim, HandOver, Letter, Meeting, Turn
from drives.readings.board import Board, boards_of
from shared.basics.lists import listed

from .content import Content, address, day_is_over
from .next_squares import next_squares
from .schedule import unfinished_in

MANY = 5  # squares that wait for one: from here on it is named …
MOST_NAMED_OF_A_BLANKET = 3  # … these at most of each blanket
MEETINGS_AHEAD = timedelta(days=14)


def monday(letter: Letter, now: datetime) -> Content | None:
    """None when nothing is late and nobody waits: no news needs no letter."""
    if day_is_over(letter, now):
        return None
    circle = letter.member.circle
    late, moving, waiting = list(_late(circle, now)), list(_moving(circle)), list(_waiting(circle))
    if not (late or moving or waiting):
        return None
    sections = [
        (_("Late:"), late),
        (_("Pieces that are to change hands:"), moving),
        (_("Who waits for a piece:"), waiting),
        (_("Squares that many wait for:"), list(_bottlenecks(circle, now))),
        (_("Who could begin what this week:"), list(next_squares(circle, localdate(now)))),
        (_("Meetings to come:"), list(_meetings(circle, localdate(now)))),
    ]
    return Content(
        {
            "today": localdate(now),
            "sections": [(heading, lines) for heading, lines in sections if lines],
            "link": address("circle", circle.pk),
        }
    )


def _late(circle: Circle, now: datetime) -> Iterator[str]:
    """How to reach members on paper stands on a page: letters outlive what is deleted here."""
    claims = Claim.objects.overdue(now).filter(square__blanket__drive__circle=circle)
    for claim in claims.select_related("member", "square__blanket__drive__circle"):
        blanket = claim.square.blanket
        yield _(
            "%(place)s of “%(blanket)s”: %(name)s, since %(due)s; "
            "it goes back to the circle after %(lapses)s."
        ) % {
            "place": claim.square,
            "blanket": blanket,
            "name": _reached(claim),
            "due": date_format(localdate(claim.due_at), "MONTH_DAY_FORMAT"),
            "lapses": date_format(localdate(claim.lapses_at), "MONTH_DAY_FORMAT"),
        }


def _reached(claim: Claim) -> str:
    member = claim.member
    if not member.is_paper:
        return member.name
    if member.note:
        told = _("%(name)s (without a login: the page “People” says how to reach them)")
    else:
        told = _("%(name)s (without a login: nothing is noted about how to reach them)")
    return told % {"name": member}


def _moving(circle: Circle) -> Iterator[str]:
    """Hand-overs, the longest agreed first."""
    moving = HandOver.objects.open().filter(piece__blanket__drive__circle=circle)
    people = moving.select_related("giver", "receiver", "piece__blanket")
    for each in people.order_by("arranged_at", "pk"):
        facts = {
            "piece": each.piece,
            "blanket": each.piece.blanket,
            "giver": each.giver or _("the circle"),
            "receiver": each.receiver,
            "since": date_format(localdate(each.sent_at or each.arranged_at), "MONTH_DAY_FORMAT"),
            "day": date_format(each.day, "MONTH_DAY_FORMAT") if each.day else "",
        }
        if each.sent_at:
            told = _(
                "%(piece)s of “%(blanket)s” has been on its way from %(giver)s to "
                "%(receiver)s since %(since)s."
            )
        elif each.day:
            told = _(
                "%(piece)s of “%(blanket)s” goes from %(giver)s to %(receiver)s on %(day)s, "
                "as agreed on %(since)s."
            )
        else:
            told = _(
                "%(piece)s of “%(blanket)s” goes from %(giver)s to %(receiver)s, "
                "as agreed on %(since)s without a day."
            )
        yield told % facts


def _waiting(circle: Circle) -> Iterator[str]:
    """The lines for pieces, each with its people in order."""
    turns = Turn.objects.waiting().filter(piece__blanket__drive__circle=circle)
    queues: dict[int, list[Turn]] = {}
    for turn in turns.select_related("member", "piece__holder", "piece__blanket"):
        queues.setdefault(turn.piece_id, []).append(turn)
    for queue in queues.values():
        piece = queue[0].piece
        names = [turn.member.name for turn in queue]
        told = ngettext(
            "%(piece)s of “%(blanket)s”, which %(holder)s has: %(names)s has been "
            "waiting for it since %(since)s.",
            "%(piece)s of “%(blanket)s”, which %(holder)s has: %(names)s have been "
            "waiting for it, the first since %(since)s.",
            len(names),
        )
        yield told % {
            "piece": piece,
            "blanket": piece.blanket,
            "holder": piece.holder or _("the circle"),
            "names": listed(names),
            "since": date_format(localdate(queue[0].asked_at), "MONTH_DAY_FORMAT"),
        }


def _bottlenecks(circle: Circle, now: datetime) -> Iterator[str]:
    """Of each blanket the squares that can be worked on now and hold up most of the others."""
    for board in boards_of(unfinished_in(circle)):
        ahead = {place: len(_above(board, place)) for place in _workable(board)}
        most = sorted(ahead, key=lambda place: -ahead[place])[:MOST_NAMED_OF_A_BLANKET]
        for place in most:
            if ahead[place] >= MANY:
                yield _bottleneck(board, place, ahead[place], now)


def _workable(board: Board) -> list[Place]:
    begun_or_ready = (states.State.TAKEN, states.State.READY)
    return [place for place in board.plan.places if board.state_of[place] in begun_or_ready]


def _above(board: Board, place: Place) -> tuple[Place, ...]:
    """All squares that stand on this one, on others between them or not."""
    return states.rip_first(board.plan, place, begun=board.state_of)


def _bottleneck(board: Board, place: Place, waiting: int, now: datetime) -> str:
    facts = {"place": place, "blanket": board.blanket, "waiting": waiting}
    claim = board.claims.get(place)
    if claim is None:
        told = ngettext(
            "%(place)s of “%(blanket)s”: %(waiting)d other waits; nobody has it yet.",
            "%(place)s of “%(blanket)s”: %(waiting)d others wait; nobody has it yet.",
            waiting,
        )
        return told % facts
    facts |= {"name": claim.member, "due": date_format(localdate(claim.due_at), "MONTH_DAY_FORMAT")}
    if claim.late(now):
        told = ngettext(
            "%(place)s of “%(blanket)s”: %(waiting)d other waits; %(name)s is late with it.",
            "%(place)s of “%(blanket)s”: %(waiting)d others wait; %(name)s is late with it.",
            waiting,
        )
    else:
        told = ngettext(
            "%(place)s of “%(blanket)s”: %(waiting)d other waits; %(name)s has it until %(due)s.",
            "%(place)s of “%(blanket)s”: %(waiting)d others wait; %(name)s has it until %(due)s.",
            waiting,
        )
    return told % facts


def _meetings(circle: Circle, today: date) -> Iterator[str]:
    ahead = Meeting.objects.filter(
        drive__circle=circle, day__gte=today, day__lte=today + MEETINGS_AHEAD
    )
    for meeting in ahead.select_related("drive").order_by("day", "drive_id"):
        yield _("%(day)s: %(drive)s") % {
            "day": date_format(meeting.day, "SENTENCE_DAY_FORMAT"),
            "drive": meeting.drive,
        }
