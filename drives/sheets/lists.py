"""The lists of the status sheet, from a blanket's board."""

from collections.abc import Iterable
from datetime import datetime
from typing import NamedTuple

from django.utils.formats import date_format
from django.utils.timezone import localtime
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from drives.craft.layout.states import State
from drives.craft.places import Place
from drives.models import Claim
from drives.readings.board import Board
from drives.words.steps import short_line
from shared.basics.lists import listed

JOINS_IN_HAND = 12  # squares in hand, up to which their joins are told too
MOST_READY = 100  # what else can be begun is left to the map
EVERY_SQUARE = 16  # squares of a blanket so small that there is room to name them all


class Line(NamedTuple):
    """What is said of one square; ``joins`` are the steps of its foundation with their counts."""

    place: Place
    who: str = ""
    when: str = ""
    joins: str = ""


class Listed(NamedTuple):
    """One list of the sheet, with a sentence under its heading."""

    heading: str
    lines: list[Line]
    note: str = ""


def late(board: Board, now: datetime) -> Listed:
    lines = _held(board, board.late(now), _("was due %(date)s"))
    return Listed(_("Late"), lines, "" if lines else _("Nothing is late."))


def in_hand(board: Board, now: datetime) -> Listed:
    """What is in hand and not late."""
    claims = [claim for claim in board.claims.values() if not claim.late(now)]
    lines = _held(board, claims, _("until %(date)s"))
    if lines:
        return Listed(_("In hand"), lines)
    nothing = _("Nothing else is in hand.") if board.claims else _("Nothing is in hand.")
    return Listed(_("In hand"), [], nothing)


def ready(board: Board) -> Listed:
    lines = [_line(board, offer.place) for offer in board.offers]
    more = len(lines) - MOST_READY
    if not lines:
        done = len(board.finished) == len(board.plan.places)
        note = _("Every square is finished.") if done else _("Nothing, until more is finished.")
    elif any(len(board.plan.foundation(line.place)) > 1 for line in lines):
        note = _("Left-handed: work each line from its end to its beginning; the counts stay.")
    else:
        note = ""
    if more > 0:
        rest = ngettext("The map shows %(more)d more.", "The map shows %(more)d more.", more)
        note = f"{note} {rest % {'more': more}}"
    return Listed(_("Can be begun now, best first"), lines[:MOST_READY], note)


def others(board: Board) -> list[Listed]:
    """On a small blanket, all the other squares as well, in the order of work."""
    places = board.plan.places if len(board.plan.places) <= EVERY_SQUARE else ()
    waiting = [
        _line(board, place, _("waits for %(squares)s") % {"squares": listed(_unmet(board, place))})
        for place in places
        if board.state_of[place] is State.WAITING
    ]
    finished = [_line(board, place) for place in places if place in board.finished]
    found = [Listed(_("Not yet"), waiting), Listed(_("Finished"), finished)]
    return [each for each in found if each.lines]


def _held(board: Board, claims: Iterable[Claim], until: str) -> list[Line]:
    few = len(board.claims) <= JOINS_IN_HAND
    lines = []
    for claim in sorted(claims, key=lambda claim: (claim.due_at, claim.square.place)):
        day = date_format(localtime(claim.due_at), "MONTH_DAY_FORMAT")
        joins = _joins(board, claim.square.place) if few else ""
        lines.append(Line(claim.square.place, claim.member.name, until % {"date": day}, joins))
    return lines


def _line(board: Board, place: Place, when: str = "") -> Line:
    return Line(place, when=when, joins=_joins(board, place))


def _joins(board: Board, place: Place) -> str:
    return short_line(board.plan.foundation(place))


def _unmet(board: Board, place: Place) -> list[Place]:
    return [each for each in board.plan.stands_on[place] if each not in board.finished]
